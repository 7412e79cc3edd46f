"""The tree back to text in the notation: a declaration's header, then its lines indented by 4, 8 and 12 blanks.

Parsing what was printed gives the same tree, places aside. Words are printed as they were written; keywords in small
letters, in the order of the tree. Comments and lines that could not be read are in no tree, so they are not printed:
who rewrites a text puts them back by the places that `printed_blocks` hands over.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import zip_longest
from typing import Any, Final

from recipelang.syntax import tree
from recipelang.syntax.forms import BLOCKS
from recipelang.syntax.tree import Body, Cell, Notes, Word
from recipelang.text.record import Record

FIELD_WIDTH: Final = 14
_SECOND_WIDTHS: Final = {"nutrition": 18, "leftovers": FIELD_WIDTH, "ingredients": 26}
_DAY_WIDTH: Final = 10


class Printed(Record):
    """One printed line: where its node began in the text that was read, how deep it stands (1 to 3), and its two
    columns: the first words and what they say, an amount and its ingredient. A line in one piece has no `rest`."""

    start: int
    depth: int
    first: str
    rest: str = ""


def print_declaration(kind: str, name: str, body: Body) -> str:
    """A declaration as text, ending with a line feed."""
    lines = [f"{kind} {name}".rstrip()]
    for block in printed_blocks(body):
        if kind == "recipe" and len(lines) > 1 and block[0].first.split(" ")[0] in BLOCKS:  # with a blank line above
            lines.append("")
        lines.extend(laid_out(block))
    return "\n".join(lines) + "\n"


def printed_blocks(body: Body) -> Iterator[list[Printed]]:
    """The printed lines of a body, a block's header with the lines under it, a plain field by itself."""
    for line in body.lines:
        yield list(_printed(line))


def laid_out(block: list[Printed]) -> Iterator[str]:
    """The lines of one block with indentation and the second column aligned: fields at one width, ingredients at
    that of the longest amount, the columns of amounts one below the other."""
    rows = _in_columns([line.first for line in block]) if block[0].first.startswith("ingredients for") else []
    firsts = rows or [line.first for line in block]
    inner = (len(first) for first, line in zip(firsts, block, strict=True) if line.depth == 2 and line.rest)
    inside = max(_SECOND_WIDTHS.get(block[0].first.split(" ")[0], _DAY_WIDTH), max(inner, default=0) + 2)
    for first, line in zip(firsts, block, strict=True):
        width = FIELD_WIDTH if line.depth == 1 else inside
        text = f"{first:<{width - 1}} {line.rest}" if line.rest else first
        yield " " * (4 * line.depth) + text


def _in_columns(firsts: list[str]) -> list[str]:
    """Amounts for several batches, `7 lb 5 oz | 14 lb 10 oz`, with their bars one below the other."""
    rows = [first.split(" | ") for first in firsts]
    widths = [max(map(len, column)) for column in zip_longest(*rows[1:], fillvalue="")]
    padded = [[f"{cell:<{width}}" for cell, width in zip(row, widths, strict=False)] for row in rows[1:]]
    return [firsts[0], *(" | ".join(row).rstrip() for row in padded)]


def without_places(node: Any) -> Any:
    """A node (or a tuple of nodes) with every place set to 0, for comparing what two texts say."""
    if not isinstance(node, tuple):
        return node
    names: tuple[str, ...] | None = getattr(node, "_fields", None)
    if names is None:
        return tuple(map(without_places, node))
    values = zip(names, node, strict=True)
    bare: list[Any] = [0 if name in ("start", "end") else without_places(value) for name, value in values]
    return type(node)(*bare)


# ---- blocks ----------------------------------------------------------------------------------------------------------


def _printed(line: Any) -> Iterator[Printed]:
    """The lines of a block or of a field."""
    match line:
        case tree.Nutrition():
            yield Printed(line.start, 1, f"nutrition per {line.per.text}")
            for nutrient in line.nutrients:
                yield Printed(nutrient.start, 2, nutrient.name.text, nutrient.amount.text)
        case tree.Ingredients():
            how = " per portion" if line.per_portion else ""
            if line.columns:
                how = " for " + _listed(word.text for word in line.columns)
            yield Printed(line.start, 1, "ingredients" + how)
            for ingredient in line.lines:
                yield Printed(ingredient.start, 2, *_ingredient(ingredient))
        case tree.Steps():
            yield Printed(line.start, 1, "steps")
            for step in line.lines:
                yield from _step(step, 2)
        case tree.Leftovers():
            yield Printed(line.start, 1, "leftovers")
            for keeps in line.keeps:
                yield Printed(keeps.start, 2, *_field(keeps))
            for typed in line.process_lines:
                yield Printed(typed.start, 2, _typed(typed))
        case tree.ChangeStep():
            verb = "after step" if line.after else "instead of step"
            first, *typed_lines = _step(line.step, 1)
            yield first._replace(start=line.start, first=f"{verb} {line.number.text} {first.first}")
            yield from typed_lines
        case tree.Day():
            yield Printed(line.start, 1, _day(line))
            for served in line.lines:
                yield from _served(served)
        case _:
            yield Printed(line.start, 1, *_field(line))


def _step(step: tree.Step, depth: int) -> Iterator[Printed]:
    yield Printed(step.start, depth, f"- {step.text.text}")
    for typed in step.process_lines:
        yield Printed(typed.start, depth + 1, _typed(typed))


def _day(day: tree.Day) -> str:
    if day.weekday is None:
        return "every day"
    return _spaced(day.weekday, day.date)


def _served(line: Any) -> Iterator[Printed]:
    """A line of a menu's day."""
    if not isinstance(line, tree.Choose):
        yield Printed(line.start, 2, *_field(line))
        return
    yield Printed(line.start, 2, _spaced("choose", line.number))
    for choice in line.lines:
        first, rest = _field(choice)
        yield Printed(choice.start, 3, f"{first} {rest}")
    yield Printed(line.end, 2, "end")


# ---- fields ----------------------------------------------------------------------------------------------------------


def _field(line: Any) -> tuple[str, str]:
    """The first words of a line that is no block, and what they say."""
    match line:
        case tree.Fact(name="not tcs" | "juice" | "no date mark" | "imported"):
            return _listed([line.name, line.detail]), ""
        case tree.Fact():
            return line.name, _spaced(line.detail)
        case tree.Field():
            return line.name, line.value.text
        case tree.Price():
            return "price", _per(line.price, line.per)
        case tree.Weighs(per=None):
            return "each weighs", _within(line.weight.text, line.within)
        case tree.Weighs():
            return "weighs", _within(_per(line.weight, line.per), line.within)
        case tree.Keeps():
            once = ["once"] if line.once else []
            return "keeps", _listed([*(_spaced(item.time, item.place) for item in line.items), *once])
        case tree.Allergens():
            return line.verb, _listed(map(_allergen, line.items)) or "none of the nine"
        case tree.CreditsNothing():
            return "credits", "nothing"
        case tree.Claims():
            return "credits", _listed(_spaced(credit.amount, credit.component) for credit in line.credits)
    return _food_field(line) or _recipe_field(line) or _menu_field(line)


def _food_field(line: Any) -> tuple[str, str] | None:
    """The lines of foods and containers."""
    match line:
        case tree.Pack():
            return "pack", " of ".join(word.text for word in line.amounts)
        case tree.Acidity(ph=None):
            return "water activity", _spaced(line.water_activity)
        case tree.Acidity():
            return "ph", _listed([line.ph, _with("water activity", line.water_activity)])
        case tree.Milk():
            return "milk", _listed([line.fat, line.flavor])
        case tree.Caffeine():
            return "caffeine", _per(line.amount, line.per)
        case tree.AlsoCalled():
            return "also called", _listed(list(line.names))
        case tree.LabelRead():
            return "label read", line.date.text
        case tree.Arrives():
            return "arrives", _listed([line.state, "frozen" if line.frozen else None])
        case tree.FoodCredit():
            credit = _spaced(line.amount, line.component, _with("per", line.per), line.basis)
            return "credits", _listed([credit, line.liquid, line.served, _with("with at least", line.condition)])
        case tree.GrainGroup():
            return "grain group", line.group.text
        case tree.CreditableGrain():
            whole = f"{line.whole.text} whole" if line.whole is not None else None
            return "creditable grain", _listed([_per(line.amount, line.per), line.kind, whole])
        case tree.OtherGrain():
            return "other grain", _per(line.amount, line.per)
        case tree.EdibleShare():
            return f"{line.share.text} of {line.parent.text} by weight", ""
        case tree.LeftFrom():
            return "left from", f"{line.parent.text}, {line.share.text} by weight"
        case tree.Holds():
            return "holds", line.amount.text
        case tree.Headspace():
            return "headspace", line.amount.text
        case tree.Fits():
            return "fits", f"{line.number.text} of {line.name.text}"
    return None


def _recipe_field(line: Any) -> tuple[str, str] | None:
    """The lines of recipes and variations."""
    match line:
        case tree.Makes():
            parts = " and ".join(_spaced(part.amount, part.name) for part in line.parts)
            return "makes", f"{line.number.text} portions" + (f" of {parts}" if parts else "")
        case tree.PackedInto():
            return "in", line.container.text
        case tree.Tested():
            portions = f"{line.portions.text} portions" if line.portions is not None else None
            return "tested", _listed([line.date, portions])
        case tree.BatchLimit():
            return "batch at most", f"{line.portions.text} portions"
        case tree.Yields():
            return "yields", _equal(line.amount.text, line.equal)
        case tree.Loses():
            return "loses", _spaced(line.share, line.how)
        case tree.GrainsBy():
            return "grains by", _listed([line.method, _with("group", line.group)])
        case tree.BasedOn():
            return "based on", line.base.text
        case tree.Use():
            cell = _cell(line.cell) if line.cell is not None else ""
            return "use", _listed([_spaced(cell, line.name, "instead of", line.instead_of), *_notes(line.notes)])
        case tree.LeaveOut():
            return "leave out", line.name.text
        case tree.LeaveOutStep():
            return "leave out", f"step {line.number.text}"
        case tree.Add():
            return "add", " ".join(_ingredient(line.ingredient))
        case tree.CreditAs():
            return "credit", f"{line.name.text} as {line.component.text}"
        case tree.Change():
            return "change", _spaced(*_field(line.line))
    return None


def _menu_field(line: Any) -> tuple[str, str]:
    """The lines of menus and calendars."""
    match line:
        case tree.Starts():
            return "starts", _listed(line.dates)
        case tree.Meals():
            return "meals", _listed(_spaced(count.grades, count.number) for count in line.counts)
        case tree.Serve():
            return "serve", "; ".join(map(_sized, line.sizes))
        case tree.Sell():
            leftover = "leftover" if line.leftover else None
            return "sell", _listed([_spaced(line.amount, line.name), line.number, _with("at", line.price), leftover])
        case tree.Closed():
            return "closed", _listed(_spaced(days.first, _with("to", days.last)) for days in line.days)
    raise TypeError(f"{type(line).__name__} is no line of a declaration")


def _typed(line: tree.ProcessLine) -> str:
    """A process line, written out in full: `or above`, `or below` and `more` stand even where they were left out."""
    words: list[Word | str | None] = ["or" if line.alternative else "", "ccp" if line.ccp else "", line.verb]
    match line.verb:
        case "cook at":
            words += [line.heat, _with("for", line.time), _with("in", line.place)]
        case "rest":
            words += [_with("for", line.time), line.how, _with("at", line.heat)]
        case "work":
            words += [line.how, _with("up to", line.time)]
        case "hold without temperature control":
            words += [_with("up to", line.time), _with("at", line.heat), "or below" if line.heat is not None else ""]
        case "microwave to":
            words += [_listed([_spaced(line.heat), _with("stand covered", line.time)])]
        case "hold hot":
            words += [_with("at", line.heat), "or above", _with("up to", line.time)]
        case "hold cold":
            words += [_with("at", line.heat), "or below", _with("up to", line.time)]
        case "chill":
            then = _spaced(_with("then to", line.heat_then), _with("within", line.within_then))
            within = _listed([_with("within", line.within), then])
            words += [_with("from", line.heat_from), _with("to", line.heat), within, line.how]
        case "transport":
            words += [line.how, _with("up to", line.time)]
        case _:  # simmer, boil, cook to, reheat to, thaw, freeze
            words += [line.heat, _with("for", line.time), _with("within", line.within), line.how]
    return _spaced(*words)


# ---- parts of lines --------------------------------------------------------------------------------------------------


def _ingredient(line: tree.Ingredient) -> tuple[str, str]:
    cells = " | ".join("-" if cell is None else _cell(cell) for cell in line.cells) or "to taste"
    return ("or " if line.alternative else "") + cells, _listed([line.name, *_notes(line.notes)])


def _cell(cell: Cell) -> str:
    return _equal(cell.amount.text + (" by weight" if cell.by_weight else ""), cell.equal)


def _notes(notes: Notes) -> list[str]:
    side = f" in {notes.side_container.text}" if notes.side_container is not None else ""
    return [
        _with("called", notes.called),
        _with("credited as", notes.credited_as),
        "on the side" + side if notes.on_the_side is not None else "",
        "optional" if notes.optional else "",
        "not credited" if notes.not_credited else "",
        "leftover" if notes.leftover is not None else "",
        _items(notes.items) or "",
        "to order" if notes.to_order else "",
        _with("discard", notes.discard),
        *(word.text for word in notes.preparation),
    ]


def _allergen(allergen: tree.Allergen) -> str:
    return allergen.name.text if allergen.kind is None else _after(allergen.name.text + ":", allergen.kind.text)


def _sized(size: tree.Sized) -> str:
    served = _spaced(size.amount, size.name, _with("for", size.grades))
    leftover = "leftover" if size.leftover else None
    return _listed([served, size.number, _with("make", size.made), _items(size.items), leftover])


def _items(number: Word | None) -> str | None:
    if number is None:
        return None
    return f"counts as {number.text} {'item' if number.text == '1' else 'items'}"


def _per(amount: Word, per: Word | None) -> str:
    return amount.text if per is None else f"{amount.text} per {per.text}"


def _within(text: str, share: Word | None) -> str:
    return text if share is None else f"{text}, within {share.text}"


def _equal(text: str, other: Word | None) -> str:
    return text if other is None else f"{text} = {other.text}"


def _with(before: str, word: Word | None) -> str:
    return "" if word is None else f"{before} {word.text}"


def _spaced(*parts: Word | str | None) -> str:
    """The parts that say something, a blank between them."""
    text = ""
    for part in _said(parts):
        text = _after(text, part) if text else part
    return text


def _listed(parts: Iterable[Word | str | None]) -> str:
    """The parts that say something, a comma and a blank between them."""
    text = ""
    for part in _said(parts):
        text = _after(text + ",", part) if text else part
    return text


def _said(parts: Iterable[Word | str | None]) -> Iterator[str]:
    for part in parts:
        if part:
            yield part if isinstance(part, str) else part.text


def _after(before: str, text: str) -> str:
    """A text behind another one: at a blank, unless the blank would make a comment of it."""
    return before + ("" if text.startswith("//") else " ") + text
