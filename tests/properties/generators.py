"""Whole declarations drawn at random, as trees: every line form of the notation, with the names and numbers that have
tripped readers up. `print_declaration` makes texts of them.

What is drawn here can be read; whether it makes sense (a food of that name, a unit that fits) is not its concern. The
libraries that can be computed with are drawn in `libraries.py`.
"""

from __future__ import annotations

from typing import Any

from hypothesis import strategies as st

from recipelang.syntax import tree
from recipelang.syntax.build import read_step
from recipelang.syntax.tree import NO_NOTES, Body, Cell, Notes, Word

Strategy = st.SearchStrategy[Any]


def maybe(strategy: Strategy) -> Strategy:
    return st.none() | strategy


def word(strategy: Strategy) -> Strategy:
    return strategy.map(lambda text: Word(text, 0))


def one_of(*texts: str) -> Strategy:
    return word(st.sampled_from(texts))


def node(kind: Any, *parts: Strategy) -> Strategy:
    """A line of some kind; its places are never compared."""
    return st.tuples(*parts).map(lambda values: kind(0, 0, *values))


def several(strategy: Strategy, least: int = 1, most: int = 3) -> Strategy:
    return st.lists(strategy, min_size=least, max_size=most).map(tuple)


# ---- names, numbers and prose ----------------------------------------------------------------------------------------

_LETTERS = st.characters(categories=["Lu", "Ll", "Lt", "Lo"])
_PROSE = st.characters(exclude_categories=["Cc", "Cs", "Zs", "Zl", "Zp"], exclude_characters="/\u2028\u2029") | st.just(
    " "
)
_HARD_NAMES = (
    "whipped ricotta", "2% milk", "10-inch tortilla", "80/20 ground beef", "half and half", "cream of wheat", "steps",
    "ham with cheese for kids", "in-house dressing", "per diem roll", "crème fraîche", "ricotta’s best", "each peach",
    "liquid smoke", "can of worms", "end", "contains nuts", "naan dough balls", "juice", "each", "7-grain bread",
    "or else sauce", "to taste mix", "1.5% yogurt", "cup noodles", "fl oz",
)  # fmt: skip
names = word(
    st.sampled_from(_HARD_NAMES)
    | st.lists(st.text(_LETTERS, min_size=1, max_size=6), min_size=1, max_size=3)
    .map(" ".join)
    .filter(lambda text: text.casefold().split()[0] not in _NOT_FIRST and not text.casefold().startswith("step "))
)
_NOT_FIRST = {"to", "or", "by", "oz", "instead", "as", "eq", "ladle", "spoodle"}
numbers = word(
    st.integers(1, 999).map(str)
    | st.sampled_from(["1/2", "2 1/2", "2-1/2", "½", "2½", "2 ½", "0.75", "12.5", "1/16", "100"])
)
counts = word(st.integers(1, 500).map(str))
amounts = one_of(
    "2 cup", "1/2 cup", "2 1/2 cups", "½ tsp", "6 lb 4 oz", "1 gal 2 qt 1 1/2 cups", "2 #8 scoops", "2 4 oz ladles",
    "3 #10 cans", "50 each", "3 tubs", "2 dozen", "250 g", "2.5 kg", "8 fl oz", "1 lb", "12 oz", "1 tbsp 1 tsp",
    "2 portions", "1 batch", "3 qt 1 cup", "5 L", "15 mL", "2 Tbsp.", "1 LB", "2 sheets", "0.5 oz",
)  # fmt: skip
per = amounts | one_of("cup", "each", "lb", "#10 can", "#8 scoop", "100 g", "case", "tub")
times = one_of("30 min", "1 h 30 min", "16 to 18 min", "90 min", "2 d", "72 h", "15 s", "8 hr", "4 h", "1 h")
heats = one_of("350 F", "165°F", "41 F", "250 to 300 F", "74 C", "135 degrees F")
percents = one_of("12%", "64 %", "0.5%", "33 1/3%", "100%")
dates = st.dates().map(lambda date: Word(date.isoformat(), 0))
prose = st.text(_PROSE, min_size=1, max_size=40).map(str.strip).filter(bool)
texts = word(st.sampled_from(["B-12", "entree", 'file "a // b.pdf"', "no cook", "breakfast; grades K-5"]) | prose)
components = one_of(
    "meat/meat alternate", "grain", "fruit", "vegetable", "red/orange vegetable", "beans peas lentils vegetable", "milk"
)
credited = one_of("1 oz eq", "1/2 cup", "0.25 oz eq", "2 1/4 oz. eq.", "1/8 cups", "3 tbsp", "4 fl oz")
grades = one_of("K-8", "9-12", "grades 6-8", "K", "pre-K", "ages 3-5", "preschool", "adults")
places = one_of("cold", "frozen", "thawed", "dry", "opened", "at room temperature")

# ---- lines of several kinds ------------------------------------------------------------------------------------------

allergens = st.builds(
    tree.Allergen, one_of("milk", "egg", "tree nuts", "fish", "wheat", "soy", "sesame"), maybe(one_of("almond", "cod"))
)


def fact(*texts: str) -> Strategy:
    return node(tree.Fact, st.sampled_from(texts), st.none())


def field(name: str) -> Strategy:
    return node(tree.Field, st.just(name), texts)


priced = node(tree.Price, numbers, per) | node(tree.Price, one_of("0.11 each", "12 case"), st.none())
weighs = node(tree.Weighs, amounts, maybe(per), maybe(percents))
_keepings = st.builds(tree.Keeping, one_of("72 h", "21 d", "1 d 12 h"), places)
keeps = st.tuples(several(_keepings), st.booleans()).map(lambda values: tree.Keeps(0, 0, *values))
credits_nothing = node(tree.CreditsNothing)
not_tcs = node(tree.Fact, st.just("not tcs"), maybe(texts))
# ---- food and container ----------------------------------------------------------------------------------------------

nutrients = node(
    tree.Nutrient, one_of("calories", "total fat", "sodium", "vitamin D", "added sugars", "zinc"),
    one_of("150", "10 g", "0 g", "1/2 g", "105 mg", "0.1 mcg"),
)  # fmt: skip
_creditable = node(
    tree.CreditableGrain, percents, st.none(), st.sampled_from(["", "whole", "enriched"]), st.none()
) | node(tree.CreditableGrain, amounts, per, st.just(""), maybe(amounts))
food_lines = st.one_of(
    fact("domestic", "liquid", "juice", "yogurt", "breakfast cereal", "whole grain-rich", "tcs"),
    fact("grain-based dessert"), not_tcs, node(tree.Fact, st.just("usda foods"), maybe(texts)),
    node(tree.Fact, st.just("packed in"), one_of("juice", "water", "light syrup")),
    fact("as in the pantry"), node(tree.Fact, st.just("item"), texts),
    node(tree.Fact, st.just("sold as"), texts), node(tree.Fact, st.just("imported"), maybe(texts)),
    node(tree.Pack, several(amounts)), priced, weighs, node(tree.LabelRead, dates),
    node(tree.AlsoCalled, several(names)),
    node(tree.Acidity, numbers, maybe(numbers)), node(tree.Acidity, st.none(), numbers),
    node(tree.Milk, one_of("fat-free", "1%", "2 %", "whole", "Low-Fat"), maybe(one_of("flavored", "unflavored"))),
    node(tree.Caffeine, amounts, per), node(tree.Allergens, st.just("contains"), several(allergens, 0)),
    node(tree.Allergens, st.just("may contain"), several(allergens)),
    node(tree.Arrives, one_of("ready to eat", "raw poultry", "cut tomato"), st.booleans()), keeps, credits_nothing,
    node(
        tree.FoodCredit, credited, components, maybe(per), st.sampled_from(["", "as purchased", "as served"]),
        st.sampled_from(["", "drained", "with its liquid"]), maybe(one_of("5 g protein", "0.25 oz whole grain")),
    ),
    node(tree.GrainGroup, one_of(*"ABCDEFGHIb")), _creditable,
    node(tree.OtherGrain, percents, st.none()), node(tree.OtherGrain, amounts, per),
    field("evidence"), node(tree.EdibleShare, percents, names), node(tree.LeftFrom, names, percents),
    node(tree.Nutrition, per, several(nutrients, 0, 4)),
)  # fmt: skip
container_lines = st.one_of(
    node(tree.Holds, amounts), node(tree.Headspace, amounts), priced, node(tree.Fits, counts, names)
)

# ---- recipe ----------------------------------------------------------------------------------------------------------

_preparations = word(
    st.sampled_from(["well chilled", 'cut "fine"', "thawed; drained", "discard the stems", "optional garnish", "//x"])
    | prose.filter(lambda text: "," not in text)
)
notes = st.just(NO_NOTES) | st.builds(
    lambda side, **values: Notes(
        on_the_side=Word("on the side", 0) if side else None, side_container=side or None, **values
    ),
    side=maybe(names), called=maybe(names), credited_as=maybe(components), optional=st.booleans(),
    not_credited=st.booleans(), leftover=maybe(one_of("leftover")), items=maybe(counts), discard=maybe(percents),
    preparation=several(_preparations, 0, 2),
)  # fmt: skip
cells = st.builds(Cell, amounts, st.booleans(), maybe(amounts))
_rows = st.tuples(cells, several(maybe(cells), 0, 2)).map(lambda row: (row[0], *row[1]))
ingredients = st.tuples(_rows | st.just(()), names, notes, st.booleans()).map(
    lambda values: tree.Ingredient(0, 0, *values)
)


def _first_stands_alone(lines: tuple[Any, ...]) -> tuple[Any, ...]:
    return tuple(line._replace(alternative=line.alternative and at > 0) for at, line in enumerate(lines))


def typed_form(verb: str, **fields: Strategy) -> Strategy:
    ccp = fields.pop("ccp", st.just(False))
    return st.builds(
        lambda ccp, alternative, **values: tree.ProcessLine(0, 0, verb, ccp, alternative=alternative, **values),
        ccp=ccp, alternative=st.booleans(), **fields,
    )  # fmt: skip


_ccp = st.booleans()
typed = st.one_of(
    typed_form("cook at", heat=heats, time=maybe(times), place=maybe(texts)),
    typed_form("simmer", time=maybe(times)), typed_form("boil", time=maybe(times)),
    typed_form("rest", time=times, how=st.sampled_from(["cold", "hot"]), heat=maybe(heats)),
    typed_form("rest", time=times, how=st.sampled_from(["", "at room temperature", "frozen"])),
    typed_form("work", time=maybe(times), how=st.just("at room temperature")),
    typed_form("cook to", ccp=_ccp, heat=heats, time=maybe(times)),
    typed_form("reheat to", ccp=_ccp, heat=heats, time=maybe(times), within=maybe(times)),
    typed_form("hold hot", ccp=_ccp, heat=heats, time=maybe(times)),
    typed_form("hold cold", ccp=_ccp, heat=heats, time=maybe(times)),
    typed_form("hold without temperature control", ccp=_ccp, time=maybe(times)),
    typed_form("chill", ccp=_ccp, heat_from=heats, heat=heats, within=times),
    typed_form("chill", ccp=_ccp, heat_from=heats, heat=heats, within=times, heat_then=heats, within_then=times,
               how=st.sampled_from(["", "more", "in all"])),
    typed_form("chill", ccp=_ccp, heat=heats, within=times, how=st.sampled_from(["", "in all"])),
    typed_form("thaw", ccp=_ccp, how=st.sampled_from(["cold", "in cold running water", "while cooking"])),
    typed_form("freeze", time=maybe(times)),
    typed_form("transport", how=st.sampled_from(["cold", "hot"]), time=maybe(times)),
)  # fmt: skip
_typed_lines = several(typed, 0, 3).map(_first_stands_alone)
_sentences = st.sampled_from([
    "Drain [fruit] overnight.", "Pipe [2 oz whipped ricotta per portion] in, then the [rest of fruit], and lid.",
    "Add [1 gal 2 qt stock], [2 #10 cans of beans].", "in the cooler, wait", "ccp means watch it", "Fold [ ] and []",
])  # fmt: skip


def _step(values: tuple[str, tuple[tree.ProcessLine, ...]]) -> tree.Step:
    return read_step(f"- {values[0]}", 0)._replace(process_lines=values[1])


steps = st.tuples(_sentences | prose, _typed_lines).map(_step)


def _portion(amount: Strategy) -> Strategy:
    """A part of `of 1 cup bean stew and 1/2 cup rice`; only the first can do without a number."""
    return st.builds(tree.PortionPart, amount, maybe(names.filter(lambda one: " and" not in one.text)))


_portions = st.just(()) | st.tuples(_portion(per)) | several(_portion(amounts), 2, 3)
recipe_fields = st.one_of(
    field("number"), field("course"), field("for"), field("process"), field("serve with"), field("pans"),
    field("offers"), field("tray for"), node(tree.Makes, counts, _portions), node(tree.PackedInto, names),
    credits_nothing, node(tree.Claims, several(st.builds(tree.Credit, credited, components))),
    node(tree.Allergens, st.just("made without"), several(allergens)), keeps,
    node(tree.Tested, dates, maybe(counts)), node(tree.BatchLimit, counts), node(tree.Yields, amounts, maybe(amounts)),
    weighs, node(tree.Loses, percents, maybe(texts)), fact("whole grain-rich", "grain-based dessert", "tcs"), not_tcs,
    node(tree.GrainsBy, one_of("creditable grain", "weight", "cooked volume"), maybe(one_of(*"ABCDEFGHI"))),
)  # fmt: skip
_ingredient_blocks = st.builds(
    lambda per_portion, columns, lines: tree.Ingredients(0, 0, per_portion and not columns, columns, lines),
    st.booleans(), several(counts, 0, 2), several(ingredients, 0, 4).map(_first_stands_alone),
)  # fmt: skip
_leftovers = node(tree.Leftovers, several(keeps, 0, 1), _typed_lines)
_recipe_bodies = st.tuples(
    several(recipe_fields, 0, 5), several(_ingredient_blocks, 0, 2), several(node(tree.Steps, several(steps, 0, 3)), 0, 1),
    several(_leftovers, 0, 1),
).map(lambda parts: tuple(line for part in parts for line in part))  # fmt: skip

# ---- variation, menu, calendar ---------------------------------------------------------------------------------------

variation_lines = st.one_of(
    node(tree.BasedOn, names), node(tree.Use, maybe(cells), names, names, notes), node(tree.LeaveOut, names),
    node(tree.LeaveOutStep, counts), node(tree.Change, recipe_fields), node(tree.CreditAs, names, components),
    node(tree.Add, ingredients.map(lambda line: line._replace(alternative=False))),
    node(tree.ChangeStep, counts, st.booleans(), steps),
)  # fmt: skip
_sized = st.builds(
    tree.Sized,
    amounts,
    maybe(names),
    maybe(grades),
    maybe(counts),
    maybe(counts),
    maybe(counts),
    st.booleans(),
    st.just(()),
)
_named = st.builds(
    tree.Sized, st.none(), names, st.none(), maybe(counts), maybe(counts), maybe(counts), st.booleans(), st.just(())
)
serves = node(tree.Serve, several(_sized) | _named.map(lambda size: (size,)))
sells = node(tree.Sell, maybe(amounts), names, maybe(counts), maybe(numbers), st.booleans())
chooses = node(tree.Choose, maybe(counts), several(serves, 0, 3))
_weekdays = one_of("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
days = st.one_of(
    st.tuples(st.just(None), st.just(None), several(serves | sells | chooses, 0, 4)),
    st.tuples(_weekdays, maybe(dates), several(serves | sells | chooses, 0, 4)),
).map(lambda values: tree.Day(0, 0, *values))
menu_fields = st.one_of(
    field("program"), field("site"), fact("offer versus serve", "vegetables for grains"), node(tree.Starts, several(dates)),
    node(tree.Meals, several(st.builds(tree.MealCount, grades, counts))),
)  # fmt: skip
_menu_bodies = st.tuples(several(menu_fields, 0, 3), several(days, 0, 3)).map(lambda parts: (*parts[0], *parts[1]))
closed_lines = node(tree.Closed, several(st.builds(tree.ClosedDays, dates, maybe(dates))))

BODIES: dict[str, Strategy] = {
    "food": several(food_lines, 0, 6),
    "container": several(container_lines, 0, 4),
    "recipe": _recipe_bodies,
    "variation": several(variation_lines, 0, 5),
    "menu": _menu_bodies,
    "calendar": several(closed_lines, 0, 2),
}


@st.composite
def declarations(draw: st.DrawFn) -> tuple[str, str, Body]:
    """A kind, a name, and the body of a declaration that can be read."""
    kind = draw(st.sampled_from(sorted(BODIES)))
    return kind, draw(names).text, Body(draw(BODIES[kind]), (), (), frozenset())
