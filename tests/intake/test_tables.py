"""Tables as recipes: headers of many makers, amounts, alternatives, and what is never taken on doubt."""

from __future__ import annotations

import pytest

from recipelang.intake.rows import CantBringIn
from tests.intake.conftest import BringIn


def lines(text: str) -> list[str]:
    """The written lines, blanks folded, without header, doubts and headings."""
    found = [" ".join(line.split()) for line in text.splitlines()]
    return [
        line
        for line in found
        if line and not line.startswith(("//", "recipe ", "food ", "ingredients", "steps", "makes"))
    ]


HEADERS = [
    "Ingredient,Weight,Measure\nwhipped ricotta,6 lb 4 oz,3 qt\n",
    "Ingredients;Weight;Measure\nWhipped Ricotta;6 lb 4 oz;3 qt\n",
    "Weight\tMeasure\tFood\n6 lb 4 oz\t3 qt\tWHIPPED RICOTTA\n",
    "Food,Weight (lb),Volume (qt)\nwhipped ricotta,6.25,3\n",
    "Quantity,Unit,Ingredient,Measure\n6 1/4,lb,whipped ricotta,3 qt\n",
    "Item,Amount\nwhipped ricotta,6 lb 4 oz = 3 qt\n",
    "whipped ricotta,6 lb 4 oz,3 qt\n",
    "Pear cups\nServings:,50\n,,\nIngredient,Weight,Measure\nwhipped ricotta,6 lb 4 oz,3 qt\n",
    "Ingredients,50 servings,\n,Weight,Measure\nwhipped ricotta,6 lb 4 oz,3 qt\n",
    "lb,qt,Ingredient\n6.25,3,whipped ricotta\n",
    ",Weight,Measure\nIngredients,50,50\nwhipped ricotta,6 lb 4 oz,3 qt\n",
]


@pytest.mark.parametrize("table", HEADERS)
def test_a_line_is_the_same_whatever_heads_its_columns(bring: BringIn, table: str) -> None:
    (line,) = lines(bring(table).text)
    amount, _, name = line.replace("6.25 lb", "6 lb 4 oz").replace("6 1/4 lb", "6 lb 4 oz").partition(" whipped")
    assert (amount, name) == ("6 lb 4 oz = 3 qt", " ricotta")


def test_several_yields_are_columns(bring: BringIn) -> None:
    text = bring("Ingredient,50 portions,100 portions\ndiced pears,3 qt,6 qt\nsoy sauce,2 tbsp,\n").text
    assert "makes         50 portions" in text
    assert "ingredients for 50, 100" in text
    assert lines(text) == ["3 qt | 6 qt diced pears", "2 tbsp | - soy sauce"]


def test_the_card_around_the_table_is_read(bring: BringIn) -> None:
    text = bring(
        "Spring Pear Cup\nRecipe number,B-12\nYield: 48 portions of 3/4 cup\nIngredient,Amount\ndiced pears,6 qt\n"
        "Directions\n1. Spoon [pears] into cups // and lid.\nhold cold at 41 F or below up to 72 h\n"
    ).text
    assert text.startswith("recipe spring pear cup\n    number        B-12\n    makes         48 portions of 3/4 cup\n")
    assert "- Spoon (pears) into cups / / and lid.\n            hold cold at 41 F or below up to 72 h" in text
    assert "doubtful" not in text


def test_an_alternative_is_one_whether_it_stands_alone_or_before_the_name(bring: BringIn) -> None:
    text = bring("Ingredient,Amount\ndiced pears,6 qt\nOR,\nsliced peaches,6 qt\nor diced apples,6 qt\n").text
    assert [line[:7] for line in lines(text)] == ["6 qt di", "or 6 qt", "or 6 qt"]


DOUBTS = {
    "diced pears,3 qt (1 No. 10 can)": ("3 qt diced pears", "beside it stood (1 No. 10 can)"),
    "diced pears,about 3 qt": ("3 qt diced pears", "only about"),
    "diced pears,50 shells": ("50 shells diced pears", "`shell` is no unit that is known"),
    "diced pears,12": ("12 each diced pears", "no unit stood beside the number"),
    "diced pears,2 to 3 qt": ("to taste diced pears", "no amount can be read from `2 to 3 qt`"),
    "diced pears,#REF!": ("to taste diced pears", "no amount can be read from `#REF!`"),
    "diced pear,3 qt": ("3 qt diced pear", "perhaps `diced pears` is meant"),
    "diced pears,": ("to taste diced pears", "no amount stood beside it"),
    "=1+1,3 qt": ("3 qt unread ingredient 1 1", "`=1+1` can't be a name"),
    '"diced pears, soy glazed",3 qt': ("3 qt diced pears soy glazed", "`soy` may make it another food"),
    '"whipped ricotta, raw milk",3 qt': ("3 qt whipped ricotta raw milk", "may make it another food"),
    '"diced pears, to order",3 qt': ("3 qt diced pears", "would say more than how it is prepared"),
    '"diced pears, not credited",3 qt': ("3 qt diced pears", "would say more"),
    "diced pears,3 qt,plus some": ("3 qt diced pears", "nothing says what `plus some` is"),
}


@pytest.mark.parametrize("row", DOUBTS)
def test_a_doubtful_line_is_brought_in_as_far_as_it_is_sure(bring: BringIn, row: str) -> None:
    found = bring(f"Ingredient,Amount\nsoy sauce,1 cup\n{row}\n")
    written, why = DOUBTS[row]
    assert lines(found.text)[1:] == [written]
    doubts = [doubt for doubt in found.declarations[0].doubts if doubt.place]
    assert len(doubts) == 1
    assert why in doubts[0].why
    assert doubts[0].comment in " ".join(found.text.split())


def test_what_looks_like_a_statement_of_safety_is_never_one(bring: BringIn) -> None:
    text = bring(
        "Contains: milk\nAllergens,none\nHACCP process,1\nMade without: peanuts\nCredits,1/2 cup fruit\nIngredient,Amount\ndiced pears,6 qt\n"
    ).text
    written = [line for line in text.splitlines() if not line.strip().startswith("//")]
    assert [line.split()[0] for line in written if line.strip()] == ["recipe", "ingredients", "6"]
    said = "Contains: milk | Allergens | none | HACCP process | 1 | Made without: peanuts | Credits | 1/2 cup fruit"
    assert f"// doubtful: no line of the notation says this for sure; it said: {said}" in text


def test_a_table_of_several_recipes(bring: BringIn) -> None:
    found = bring(
        "Recipe,Servings,Ingredient,Amount\nPear cup,50,diced pears,6 qt\n,,soy sauce,1 tsp\nApple cup,24,diced apples,3 qt\n"
    )
    assert [one.name for one in found.declarations] == ["pear cup 2", "apple cup"], "`pear cup` is one of the library's"
    assert found.text.count("makes") == 2


BAD = {
    "a,b\nc,d\n": "which columns hold names",
    "": "it is empty",
    " \n\n": "it is empty",
    "Ingredient,Amount\n": "there is no ingredient",
}


@pytest.mark.parametrize("table", BAD)
def test_what_holds_no_table_is_one_sentence(bring: BringIn, table: str) -> None:
    with pytest.raises(CantBringIn, match=BAD[table]):
        bring(table)


def test_columns_can_be_named(bring: BringIn) -> None:
    text = bring("x,diced pears,6 lb,3 qt\n", columns="-, ingredient, weight, measure").text
    assert lines(text) == ["6 lb = 3 qt diced pears"]
    with pytest.raises(CantBringIn, match="--columns: `colour` is no kind of column"):
        bring("a,b\n", columns="ingredient, colour")


def test_another_encoding_is_guessed_and_its_lines_are_doubtful(bring: BringIn) -> None:
    found = bring("Ingredient,Amount\nsoy sauce,1 cup\njalapeño rings,½ cup\n".encode("cp1252"))
    assert lines(found.text) == ["1 cup soy sauce", "½ cup jalapeño rings"]
    assert "Windows-1252" in found.declarations[0].doubts[-1].why


def test_a_million_rows_are_refused_at_once(bring: BringIn) -> None:
    with pytest.raises(CantBringIn, match="more than 50000 rows"):
        bring("Ingredient,Amount\n" + "soy sauce,1 cup\n" * 1_000_000)


def test_what_stands_around_the_ingredients_is_no_ingredient(bring: BringIn) -> None:
    found = bring(
        "USDA Recipe for Schools,,\nPear Bowl,,\nIngredients,50 Servings,Directions\nDiced pears,6 lb / 3 qt,1. Dice.\n"
        "Soy sauce,1 cup,2. Serve.\nNutrients Per Serving,,\nCalories,235,\nProtein,14 g,\nMarketing guide,,\npears,7 lb,\n"
    )
    assert found.declarations[0].name == "pear bowl"
    assert lines(found.text) == ["6 lb = 3 qt diced pears", "1 cup soy sauce", "- Dice.", "- Serve."]
    assert "it said: Calories | 235 | Protein | 14 g" in found.text
    assert "is taken for a weight and a measure of the same" in found.text
