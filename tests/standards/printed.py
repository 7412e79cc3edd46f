"""The programs' figures typed a second time, from the sources and in the form they are printed in: a row `2.5 (0.5)`
is a week's amount and a day's.

Sources: 7 CFR 210.10, 210.11 and 220.8 in the text current to April 13, 2026; 225.16 and 226.20 in public copies; the Food
and Nutrition Service's page of sodium limits; State copies of the charts for short and long weeks and of the tables of
225.16; the Whole Milk for
Healthy Kids Act of 2025 and the Service's memorandum of January 14, 2026, as reported. Rows marked `memory` are typed
from memory, here as there.
"""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

RULE_OF_2024 = date(2024, 7, 1)


class Printed(NamedTuple):
    """A printed table: its programs, what its rows are, the mark, its dates, and its text."""

    programs: tuple[str, ...]
    kind: str
    mark: str
    text: str
    since: date = RULE_OF_2024
    until: date | None = None
    days: int = 0


LUNCH = ("lunch",)
BREAKFAST = ("breakfast",)
CARE = ("child care breakfast", "child care lunch", "child care supper", "child care snack")
CARE_MEALS = ("child care lunch", "child care supper")
SUMMER = ("summer breakfast", "summer lunch", "summer supper", "summer snack")

WEEKS = (
    # ---- 7 CFR 210.10(c), Table 1: lunch, a week of five days and (in brackets) a day
    Printed(LUNCH, "weekly (daily)", "seen", """
                        | K-5        | 6-8        | 9-12
        fruit           | 2.5 (0.5)  | 2.5 (0.5)  | 5 (1)
        vegetable       | 3.75 (.75) | 3.75 (.75) | 5 (1)
        dark green      | 0.5        | 0.5        | 0.5
        red-orange      | 0.75       | 0.75       | 1.25
        beans peas lentils | 0.5     | 0.5        | 0.5
        starchy         | 0.5        | 0.5        | 0.5
        other           | 0.5        | 0.5        | 0.75
        additional      | 1          | 1          | 1.5
        grain           | 8 (1)      | 8 (1)      | 10 (2)
        meat alternate  | 8 (1)      | 9 (1)      | 10 (2)
        milk            | 5 (1)      | 5 (1)      | 5 (1)
    """, days=5),
    Printed(LUNCH, "weekly (daily)", "derived", """
                        | K-8
        fruit           | 2.5 (0.5)
        vegetable       | 3.75 (.75)
        dark green      | 0.5
        red-orange      | 0.75
        beans peas lentils | 0.5
        starchy         | 0.5
        other           | 0.5
        additional      | 1
        grain           | 8 (1)
        meat alternate  | 9 (1)
        milk            | 5 (1)
    """, days=5),
    # ---- the charts for short and long weeks
    Printed(LUNCH, "weekly", "copies", """
                        | K-5  | 6-8  | 9-12
        grain           | 5    | 5    | 6
        fruit           | 1.5  | 1.5  | 3
        vegetable       | 2.25 | 2.25 | 3
        dark green      | 0.5  | 0.5  | 0.5
        red-orange      | 0.5  | 0.5  | 1
        beans peas lentils | 0.5 | 0.5 | 0.5
        starchy         | 0.5  | 0.5  | 0.5
        other           | 0.25 | 0.25 | 0.5
        additional      | 0    | 0    | 0
    """, days=3),
    Printed(LUNCH, "weekly", "derived", """
                        | K-5  | 6-8  | 9-12
        meat alternate  | 5    | 5.5  | 6
        milk            | 3    | 3    | 3
    """, days=3),
    Printed(LUNCH, "weekly", "derived", """
                        | K-8
        grain           | 5
        meat alternate  | 5.5
        fruit           | 1.5
        vegetable       | 2.25
        dark green      | 0.5
        red-orange      | 0.5
        beans peas lentils | 0.5
        starchy         | 0.5
        other           | 0.25
        additional      | 0
        milk            | 3
    """, days=3),
    Printed(LUNCH, "weekly", "derived", """
                        | K-5  | 6-8  | 9-12 | K-8
        grain           | 6.5  | 6.5  | 8    | 6.5
        meat alternate  | 6.5  | 7    | 8    | 7
        fruit           | 2    | 2    | 4    | 2
        vegetable       | 3    | 3    | 4    | 3
        dark green      | 0.5  | 0.5  | 0.5  | 0.5
        red-orange      | 0.75 | 0.75 | 1.25 | 0.75
        beans peas lentils | 0.5 | 0.5 | 0.5 | 0.5
        starchy         | 0.5  | 0.5  | 0.5  | 0.5
        other           | 0.5  | 0.5  | 0.75 | 0.5
        additional      | 0.25 | 0.25 | 0.5  | 0.25
        milk            | 4    | 4    | 4    | 4
    """, days=4),
    Printed(LUNCH, "weekly", "derived", """
                        | K-5  | 6-8  | 9-12 | K-8
        grain           | 9.5  | 9.5  | 12   | 9.5
        meat alternate  | 9.5  | 11   | 12   | 11
        fruit           | 3    | 3    | 6    | 3
        vegetable       | 4.5  | 4.5  | 6    | 4.5
        dark green      | 0.5  | 0.5  | 0.5  | 0.5
        red-orange      | 0.75 | 0.75 | 1.25 | 0.75
        beans peas lentils | 0.5 | 0.5 | 0.5 | 0.5
        starchy         | 0.5  | 0.5  | 0.5  | 0.5
        other           | 0.5  | 0.5  | 0.75 | 0.5
        additional      | 1.75 | 1.75 | 2.5  | 1.75
        milk            | 6    | 6    | 6    | 6
    """, days=6),
    Printed(LUNCH, "weekly", "copies", """
                        | K-5  | 6-8  | 9-12
        grain           | 11   | 11   | 14
        meat alternate  | 11   | 12.5 | 14
        fruit           | 3.5  | 3.5  | 7
        vegetable       | 5.25 | 5.25 | 7
        dark green      | 0.5  | 0.5  | 0.5
        red-orange      | 0.75 | 0.75 | 1.25
        beans peas lentils | 0.5 | 0.5 | 0.5
        starchy         | 0.5  | 0.5  | 0.5
        other           | 0.5  | 0.5  | 0.75
        additional      | 2.5  | 2.5  | 3.5
    """, days=7),
    Printed(LUNCH, "weekly", "derived", """
                        | K-5  | 6-8  | 9-12
        milk            | 7    | 7    | 7
    """, days=7),
    Printed(LUNCH, "weekly", "derived", """
                        | K-8
        grain           | 11
        meat alternate  | 12.5
        fruit           | 3.5
        vegetable       | 5.25
        dark green      | 0.5
        red-orange      | 0.75
        beans peas lentils | 0.5
        starchy         | 0.5
        other           | 0.5
        additional      | 2.5
        milk            | 7
    """, days=7),
    # ---- 7 CFR 220.8(c), Table 1: breakfast
    Printed(BREAKFAST, "weekly (daily)", "seen", """
                                | K-5   | 6-8   | 9-12
        fruit or vegetable      | 5 (1) | 5 (1) | 5 (1)
        grain or meat alternate | 7 (1) | 8 (1) | 9 (1)
        milk                    | 5 (1) | 5 (1) | 5 (1)
    """, days=5),
    Printed(BREAKFAST, "weekly (daily)", "derived", """
                                | K-8   | 6-12  | K-12
        fruit or vegetable      | 5 (1) | 5 (1) | 5 (1)
        grain or meat alternate | 8 (1) | 9 (1) | 9 (1)
        milk                    | 5 (1) | 5 (1) | 5 (1)
    """, days=5),
    Printed(BREAKFAST, "weekly", "copies", """
                                | K-5 | 6-8 | 9-12
        fruit or vegetable      | 3   | 3   | 3
        grain or meat alternate | 4   | 5   | 5.5
    """, days=3),
    Printed(BREAKFAST, "weekly", "derived", """
                                | K-5 | 6-8 | 9-12
        milk                    | 3   | 3   | 3
    """, days=3),
    Printed(BREAKFAST, "weekly", "derived", """
                                | K-8 | 6-12 | K-12
        fruit or vegetable      | 3   | 3    | 3
        grain or meat alternate | 5   | 5.5  | 5.5
        milk                    | 3   | 3    | 3
    """, days=3),
    Printed(BREAKFAST, "weekly", "derived", """
                                | K-5 | 6-8 | 9-12 | K-8 | 6-12 | K-12
        fruit or vegetable      | 4   | 4   | 4    | 4   | 4    | 4
        grain or meat alternate | 5.5 | 6.5 | 7    | 6.5 | 7    | 7
        milk                    | 4   | 4   | 4    | 4   | 4    | 4
    """, days=4),
    Printed(BREAKFAST, "weekly", "derived", """
                                | K-5 | 6-8 | 9-12 | K-8 | 6-12 | K-12
        fruit or vegetable      | 6   | 6   | 6    | 6   | 6    | 6
        grain or meat alternate | 8.5 | 9.5 | 11   | 9.5 | 11   | 11
        milk                    | 6   | 6   | 6    | 6   | 6    | 6
    """, days=6),
    Printed(BREAKFAST, "weekly", "derived", """
                                | K-5 | 6-8 | 9-12 | K-8 | 6-12 | K-12
        fruit or vegetable      | 7   | 7   | 7    | 7   | 7    | 7
        grain or meat alternate | 10  | 11  | 12.5 | 11  | 12.5 | 12.5
        milk                    | 7   | 7   | 7    | 7   | 7    | 7
    """, days=7),
)  # fmt: skip

DIET = (
    # ---- lunch: average of a meal over the week
    Printed(LUNCH, "average", "seen", """
                            | K-5 | 6-8 | 9-12
        calories least      | 550 | 600 | 750
        calories most       | 650 | 700 | 850
        saturated fat below | 10  | 10  | 10
    """),
    Printed(LUNCH, "average", "copies", """
                            | K-8
        calories least      | 600
        calories most       | 650
        saturated fat below | 10
    """),
    Printed(LUNCH, "average", "seen", """
                            | K-5  | 6-8  | 9-12
        sodium most         | 1110 | 1225 | 1280
    """, until=date(2027, 6, 30)),
    Printed(LUNCH, "average", "derived", """
                            | K-8
        sodium most         | 1110
    """, until=date(2027, 6, 30)),
    Printed(LUNCH, "average", "seen", """
                            | K-5 | 6-8  | 9-12
        sodium most         | 935 | 1035 | 1080
    """, date(2027, 7, 1)),
    Printed(LUNCH, "average", "derived", """
                            | K-8
        sodium most         | 935
    """, date(2027, 7, 1)),
    Printed(LUNCH, "average", "seen", """
                            | K-5 | 6-8 | 9-12 | K-8
        added sugars below  | 10  | 10  | 10   | 10
    """, date(2027, 7, 1)),
    # ---- breakfast
    Printed(BREAKFAST, "average", "seen", """
                            | K-5 | 6-8 | 9-12
        calories least      | 350 | 400 | 450
        calories most       | 500 | 550 | 600
        saturated fat below | 10  | 10  | 10
    """),
    Printed(BREAKFAST, "average", "derived", """
                            | K-8 | 6-12 | K-12
        calories least      | 400 | 450  | 450
        calories most       | 500 | 550  | 500
        saturated fat below | 10  | 10   | 10
    """),
    Printed(BREAKFAST, "average", "seen", """
                            | K-5 | 6-8 | 9-12
        sodium most         | 540 | 600 | 640
    """, until=date(2027, 6, 30)),
    Printed(BREAKFAST, "average", "derived", """
                            | K-8 | 6-12 | K-12
        sodium most         | 540 | 600  | 540
    """, until=date(2027, 6, 30)),
    Printed(BREAKFAST, "average", "seen", """
                            | K-5 | 6-8 | 9-12
        sodium most         | 485 | 535 | 570
    """, date(2027, 7, 1)),
    Printed(BREAKFAST, "average", "derived", """
                            | K-8 | 6-12 | K-12
        sodium most         | 485 | 535  | 485
    """, date(2027, 7, 1)),
    Printed(BREAKFAST, "average", "seen", """
                            | K-5 | 6-8 | 9-12 | K-8 | 6-12 | K-12
        added sugars below  | 10  | 10  | 10   | 10  | 10   | 10
    """, date(2027, 7, 1)),
)  # fmt: skip

SHARES_AND_MILK = (
    Printed(LUNCH, "week", "seen", """
                                 | all
        whole grain-rich percent | 80
        fruit juice percent      | 50
        vegetable juice percent  | 50
        grain dessert most       | 2
    """),
    Printed(BREAKFAST, "week", "seen", """
                                 | all
        whole grain-rich percent | 80
        juice percent            | 50
        vegetable subgroups least | 2
    """),
    Printed(LUNCH, "milk", "seen", """
                         | all
        kinds least      | 2
        unflavored least | 1
    """),
    Printed(LUNCH, "milk", "seen", """
                         | all
        unflavored       | fat-free, 1%
        flavored         | fat-free, 1%
    """, until=date(2026, 1, 13)),
    Printed(LUNCH, "milk", "copies", """
                             | all
        unflavored           | fat-free, 1%, 2%, whole
        flavored             | fat-free, 1%, 2%, whole
        saturated fat counts | 0
    """, date(2026, 1, 14)),
    Printed(BREAKFAST, "milk", "seen", """
                         | all
        kinds least      | 2
        unflavored least | 1
        unflavored       | fat-free, 1%
        flavored         | fat-free, 1%
    """),
)  # fmt: skip

FOR_GRAINS = (
    Printed(LUNCH, "vegetables for grains", "copies", """
                                     | all
        cups for an ounce equivalent | 0.5
    """),
)  # fmt: skip

CHILD_CARE = (
    Printed(("child care breakfast",), "daily", "seen", """
                                | ages 1-2 | ages 3-5 | ages 6-12 | ages 13-18 | adults
        milk                    | 4 fl oz  | 6 fl oz  | 8 fl oz   | 8 fl oz    | 8 fl oz
        fruit or vegetable      | 0.25     | 0.5      | 0.5       | 0.5        | 0.5
        grain or meat alternate | 0.5      | 0.5      | 1         | 1          | 2
    """),
    Printed(("child care breakfast",), "week", "seen", """
                                      | all
        meat alternate for grain most | 3
    """),
    Printed(CARE_MEALS, "daily", "seen", """
                       | ages 1-2 | ages 3-5 | ages 6-12 | ages 13-18 | adults
        meat alternate | 1        | 1.5      | 2         | 2          | 2
        vegetable      | 0.125    | 0.25     | 0.5       | 0.5        | 0.5
        fruit          | 0.125    | 0.25     | 0.25      | 0.25       | 0.5
        grain          | 0.5      | 0.5      | 1         | 1          | 2
    """),
    Printed(CARE_MEALS, "daily", "seen", """
             | ages 1-2 | ages 3-5 | ages 6-12 | ages 13-18
        milk | 4 fl oz  | 6 fl oz  | 8 fl oz   | 8 fl oz
    """),
    Printed(("child care lunch",), "daily", "seen", """
             | adults
        milk | 8 fl oz
    """),
    Printed(("child care snack",), "daily", "seen", """
                       | ages 1-2 | ages 3-5 | ages 6-12 | ages 13-18 | adults
        milk           | 4 fl oz  | 4 fl oz  | 8 fl oz   | 8 fl oz    | 8 fl oz
        meat alternate | 0.5      | 0.5      | 1         | 1          | 1
        vegetable      | 0.5      | 0.5      | 0.75      | 0.75       | 0.5
        fruit          | 0.5      | 0.5      | 0.75      | 0.75       | 0.5
        grain          | 0.5      | 0.5      | 1         | 1          | 1
    """),
    Printed(("child care snack",), "snack", "seen", """
                         | all
        components least | 2
        drinks most      | 1
    """),
    Printed(CARE, "week", "seen", """
                           | all
        grain dessert most | 0
    """),
    Printed(CARE, "day", "seen", """
                                        | all
        meals with juice most           | 1
        whole grain-rich servings least | 1
    """),
    Printed(CARE, "day", "seen", """
                                        | adults
        meals with yogurt for milk most | 1
    """),
    Printed(CARE, "milk", "seen", """
                   | age 1 | ages 2-5     | ages 6-18    | adults
        unflavored | whole | fat-free, 1% | fat-free, 1% | fat-free, 1%
        flavored   |       |              | fat-free, 1% | fat-free, 1%
    """),
    Printed(CARE, "milk", "seen", """
                                   | adults
        ounces of yogurt for a cup | 6
    """),
)  # fmt: skip

SNACK_AND_SUMMER = (
    Printed(("snack",), "daily", "seen", """
                       | K-12
        milk           | 8 fl oz
        meat alternate | 1
        vegetable      | 0.75
        fruit          | 0.75
        grain          | 1
    """, date(2025, 7, 1)),
    Printed(("snack",), "snack", "seen", """
                         | all
        components least | 2
        drinks most      | 1
    """, date(2025, 7, 1)),
    Printed(("snack",), "week", "seen", """
                                 | all
        whole grain-rich percent | 80
        fruit juice percent      | 50
        vegetable juice percent  | 50
        grain dessert most       | 0
    """, date(2025, 7, 1)),
    Printed(("snack",), "milk", "seen", """
                   | K-12
        unflavored | fat-free, 1%
        flavored   | fat-free, 1%
    """, date(2025, 7, 1)),
    Printed(("summer breakfast",), "daily", "copies", """
                           | all
        milk               | 1
        fruit or vegetable | 0.5
        grain serving      | 1
    """),
    Printed(("summer lunch", "summer supper"), "daily", "copies", """
                           | all
        milk               | 1
        fruit or vegetable | 0.75
        grain serving      | 1
        meat alternate     | 2
    """),
    Printed(("summer lunch", "summer supper"), "kinds", "copies", """
                           | all
        fruit or vegetable | 2
        juice percent      | 50
    """),
    Printed(("summer snack",), "daily", "copies", """
                           | all
        milk               | 1
        fruit or vegetable | 0.75
        grain serving      | 1
        meat alternate     | 1
    """),
    Printed(("summer snack",), "snack", "seen", """
                         | all
        components least | 2
        drinks most      | 1
    """),
    Printed(SUMMER, "grain serving", "copies", """
              | B
        grams | 25
    """),
    Printed(SUMMER, "grain serving", "memory", """
              | A  | C  | D  | E  | F  | G   | H  | I
        grams | 20 | 31 | 50 | 63 | 75 | 115 | 25 | 25
    """),
)  # fmt: skip

TRAYS = (
    Printed(BREAKFAST, "offer versus serve", "seen", """
                            | all
        items offered least | 4
        items declined most | 1
        fruit in the tray   | 0.5
    """),
    Printed(BREAKFAST, "offer versus serve", "derived", """
                          | all
        items taken least | 3
    """),
    Printed(("breakfast", "summer breakfast"), "food item", "memory", """
                                | all
        fruit or vegetable      | 0.5
        grain or meat alternate | 1
        milk                    | 1
    """),
    Printed(LUNCH, "offer versus serve", "seen", """
                                       | all
        components offered least       | 5
        components declined most       | 2
        fruit or vegetable in the tray | 0.5
        required from grade            | 9
    """),
    Printed(LUNCH, "offer versus serve", "derived", """
                               | all
        components taken least | 3
    """),
    Printed(("supper",), "offer versus serve", "seen", """
                                 | ages 1-2 | ages 3-5 | ages 6-12 | ages 13-18
        components offered least | 5        | 5        | 5         | 5
        components declined most | 2        | 2        | 2         | 2
    """),
    Printed(("supper",), "offer versus serve", "derived", """
                               | ages 1-2 | ages 3-5 | ages 6-12 | ages 13-18
        components taken least | 3        | 3        | 3         | 3
    """),
    Printed(("child care breakfast",), "offer versus serve", "seen", """
                            | adults
        items offered least | 4
        items declined most | 1
    """),
    Printed(("child care breakfast",), "offer versus serve", "derived", """
                          | adults
        items taken least | 3
    """),
    Printed(("child care breakfast",), "food item", "seen", """
                                | adults
        fruit or vegetable      | 0.5
        grain or meat alternate | 1
        milk                    | 8 fl oz
        servings of grain       | 2
    """),
    Printed(("child care lunch",), "offer versus serve", "seen", """
                                 | adults
        components offered least | 5
        components declined most | 2
    """),
    Printed(("child care lunch",), "offer versus serve", "derived", """
                               | adults
        components taken least | 3
    """),
    Printed(("child care supper", "supper"), "offer versus serve", "seen", """
                                 | adults
        components offered least | 4
        components declined most | 1
    """),
    Printed(("child care supper", "supper"), "offer versus serve", "derived", """
                               | adults
        components taken least | 3
    """),
    Printed(("summer breakfast",), "offer versus serve", "seen", """
                            | all
        items offered least | 4
        items declined most | 1
    """),
    Printed(("summer breakfast",), "offer versus serve", "derived", """
                          | all
        items taken least | 3
    """),
    Printed(SUMMER[1:3], "offer versus serve", "seen", """
                                 | all
        components offered least | 4
        components declined most | 2
    """),
    Printed(SUMMER[1:3], "offer versus serve", "derived", """
                               | all
        components taken least | 2
    """),
)  # fmt: skip

PRODUCTS = (
    Printed(("lunch", "breakfast", "snack"), "product", "seen", """
                                                         | all
        added sugars of cereal per ounce                 | 6
        added sugars of yogurt per 6 ounces              | 12
        added sugars of flavored milk per 8 fluid ounces | 10
    """, date(2025, 7, 1)),
    Printed(("a la carte",), "product", "seen", """
                                                          | middle | high
        added sugars of flavored milk per 12 fluid ounces | 15     | 15
    """, date(2025, 7, 1)),
    Printed(CARE, "product", "seen", """
                                            | all
        added sugars of cereal per ounce    | 6
        added sugars of yogurt per 6 ounces | 12
    """, date(2025, 10, 1)),
    Printed(CARE, "product", "seen", """
                                            | all
        total sugars of cereal per ounce    | 6
        total sugars of yogurt per 6 ounces | 23
    """, until=date(2025, 9, 30)),
)  # fmt: skip

COMPETITIVE = (
    Printed(("a la carte",), "item", "seen", """
                                    | side | entree
        calories most               | 200  | 350
        sodium most                 | 200  | 480
        total fat percent           | 35   | 35
        saturated fat below percent | 10   | 10
        total sugars percent        | 35   | 35
    """),
    Printed(("a la carte",), "general", "seen", """
                                 | all
        fruit or vegetable least | 0.25
        whole grain percent      | 50
    """),
    Printed(("a la carte",), "entree exemption", "seen", """
                          | all
        school days after | 1
    """),
    Printed(("a la carte",), "drink", "seen", """
              | elementary | middle | high
        milk  | 8          | 12     | 12
        juice | 8          | 12     | 12
    """),
    Printed(("a la carte",), "drink", "seen", """
                       | high
        calorie-free   | 20
        lower-calorie  | 12
        caffeine       | yes
    """),
    Printed(("a la carte",), "drink calories", "seen", """
                                              | high
        calorie-free below in 8 fluid ounces  | 5
        calorie-free most in 20 fluid ounces  | 10
        lower-calorie most in 8 fluid ounces  | 40
        lower-calorie most in 12 fluid ounces | 60
    """),
)  # fmt: skip

PURCHASES = (
    Printed(("breakfast", "lunch"), "purchases", "copies", """
                              | all
        imported percent most | 10
    """, date(2025, 7, 1), date(2028, 6, 30)),
    Printed(("breakfast", "lunch"), "purchases", "copies", """
                              | all
        imported percent most | 8
    """, date(2028, 7, 1), date(2031, 6, 30)),
    Printed(("breakfast", "lunch"), "purchases", "copies", """
                              | all
        imported percent most | 5
    """, date(2031, 7, 1)),
)  # fmt: skip

PRINTED = (
    *WEEKS, *DIET, *SHARES_AND_MILK, *FOR_GRAINS, *CHILD_CARE, *SNACK_AND_SUMMER, *TRAYS, *PRODUCTS, *COMPETITIVE,
    *PURCHASES,
)  # fmt: skip
