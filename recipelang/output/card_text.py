"""A recipe's card as text of 78 columns, in the order of the printed one."""

from __future__ import annotations

import textwrap
from typing import Any, Final

from recipelang.output.cautions import ALLERGEN_CAUTION, SAFETY_CAUTION
from recipelang.output.columns import table
from recipelang.text.visible import visible

WIDTH: Final = 78
_BLOCKS: Final = 30
_COUNTS: Final = "■"
_UP: Final = "↑"


def card_text_lines(card: dict[str, Any], side: str) -> list[str]:
    """The lines of a card. `side` is bench, desk or both."""
    lines: list[str] = []
    if side != "desk":
        lines += [*_head(card), *_banner(card), *_strip(card), *_allergens(card), *_steps(card), *_foot(card)]
    if side == "both":
        lines.append("")
    if side != "bench":
        lines += _desk(card, alone=side == "desk")
    return [line.rstrip() for line in lines]


def _head(card: dict[str, Any]) -> list[str]:
    title, number = visible(card["title_text"]), visible(card["number_text"])
    rest = [card["course_text"], card["process_text"], card["audience_text"]]
    if card["based_on_text"]:
        rest.append(f"based on {card['based_on_text']}")
    under = " · ".join(part for part in rest if part)
    return [f"{title}{number.rjust(max(1, WIDTH - len(title)))}" if number else title, *_wrapped(under), "═" * WIDTH]


def _banner(card: dict[str, Any]) -> list[str]:
    lines: list[str] = []
    if card["errors"]:
        number = len(card["errors"])
        lines += ["!" * WIDTH, f"DO NOT COOK FROM THIS CARD: {number} open error{'s' if number > 1 else ''}"]
        for error in card["errors"]:
            where = f"{error['where_text']}: " if error["where_text"] else ""
            lines += _wrapped(f"{where}{error['message_text']}", "  - ", "    ")
            lines += _wrapped(f"fix: {error['fix_text']}", "    ", "      ") if error["fix_text"] else []
        lines.append("!" * WIDTH)
    for message in card["allowed"]:
        lines += _wrapped(message, "  ", "    ")
    return lines


def _strip(card: dict[str, Any]) -> list[str]:
    wide = max(len(fact["label_text"]) for fact in card["fact_strip"]) + 2
    lines: list[str] = []
    for fact in card["fact_strip"]:
        label = fact["label_text"].ljust(wide)
        note = f" {'· ' if fact['label_text'] == 'Portion' else ''}{fact['note_text']}" if fact["note_text"] else ""
        for at, value in enumerate(fact["values"]):
            lines += _wrapped(f"{value}{'' if at else note}", " " * wide if at else label, " " * wide)
    return lines


def _allergens(card: dict[str, Any]) -> list[str]:
    lines = [""]
    for head, names in (("CONTAINS", card["contains"]), ("MAY CONTAIN", card["may_contain"])):
        lines += _wrapped(f"{head} {' · '.join(names)}") if names else []
    if card["unknown"]:
        lines += _wrapped(f"NOT KNOWN: no label read for {' · '.join(card['unknown'])}")
    if not card["contains"] and not card["unknown"]:
        lines.append("No label read says “contains”.")
    if card["defaults"]:
        lines += _wrapped(f"By a pantry default, no label read: {' · '.join(card['defaults'])}. Read the package.")
    if card["undated"]:
        lines += _wrapped(f"No date of a label read: {' · '.join(card['undated'])}. Read the package.")
    return [*lines, *_wrapped(ALLERGEN_CAUTION)]


def _steps(card: dict[str, Any]) -> list[str]:
    lines: list[str] = []
    for step in card["steps"]:
        lines.append("─" * WIDTH)
        words = "".join(part["text"] for part in step["words"])
        zone = f" [{step['zone_text']}]" if step["zone_text"] else ""
        lines += _wrapped(f"{words}{zone}", f"{step['number']:>2}  ", "    ")
        for control in step["controls"]:
            head = f"CCP {control['ccp']}  " if control["ccp"] else ""
            lines += _wrapped(f"{head}{control['head_text']} {control['limit_text']}".rstrip(), "    | ", "    |   ")
        lines += _amounts(step["goes_in"], card["batches"])
        if step["from_before"]:
            before = ", ".join(f"{one['name_text']} from step {one['step']}" for one in step["from_before"])
            lines += _wrapped(before, "      ", "      ")
    if card["unnamed"]:
        head = "No step names these:" if card["steps"] else "No steps are written down."
        lines += ["─" * WIDTH, f"    {head}", *_amounts(card["unnamed"], card["batches"])]
    return [*lines, "─" * WIDTH]


def _amounts(goes_in: list[dict[str, Any]], batches: list[str]) -> list[str]:
    """What goes in, a column a batch size; the second side of an amount below the first where both have no room."""
    if not goes_in:
        return []
    lines = _table_of(goes_in, batches, stacked=False)
    return lines if max(map(len, lines)) <= WIDTH else _table_of(goes_in, batches, stacked=True)


def _table_of(goes_in: list[dict[str, Any]], batches: list[str], stacked: bool) -> list[str]:
    rows = [["", *batches]]
    for line in goes_in:
        mark = _COUNTS if line["counts"] else " "
        first = [_side(cell, "first") for cell in line["cells"]]
        second = [_side(cell, "second") for cell in line["cells"]]
        if not stacked:
            first = [" = ".join(filter(None, pair)) for pair in zip(first, second, strict=True)]
        rows.append([f"{mark} {visible(line['name_text'])}", *first])
        if stacked and any(second):
            rows.append(["", *(f"= {text}" if text else "" for text in second)])
        if line["note_text"]:
            rows.append([f"    {visible(line['note_text'])}"])
    return table(_narrow(rows), indent="    ")


def _side(cell: dict[str, Any], side: str) -> str:
    return f"{visible(cell[f'{side}_text'])}{' ' + _UP if cell[f'{side}_up'] else ''}" if cell[f"{side}_text"] else ""


def _narrow(rows: list[list[str]]) -> list[list[str]]:
    """Rows whose first column is cut to what the amounts leave of the width."""
    amounts = [max((len(row[at]) for row in rows if len(row) > at), default=0) + 2 for at in range(1, len(rows[0]))]
    most = max(16, WIDTH - 4 - sum(amounts))
    found: list[list[str]] = []
    for row in rows:
        pieces = textwrap.wrap(row[0], most, subsequent_indent="    ", drop_whitespace=False) or [""]
        found.append([pieces[0], *row[1:]])
        found += [[piece] for piece in pieces[1:]]
    return found


def _foot(card: dict[str, Any]) -> list[str]:
    lines: list[str] = []
    for container in card["containers"]:
        share = min(1.0, container["filled_fl_oz"] / container["holds_fl_oz"])
        filled = round(share * _BLOCKS)
        state = "OVER THE FILL LINE" if container["over"] else "fill line"
        least = "at least " if container["at_least"] else ""
        told = f"{least}{container['filled_text']}, {state} {container['room_text']}"
        bar = f"{'█' * filled}{'░' * (_BLOCKS - filled)}"
        lines += _wrapped(f"{container['name_text']}  {bar}  {told}", "", " " * 4)
    if card["leftovers_text"]:
        lines += _wrapped(f"Leftovers: {card['leftovers_text']}")
    if card["batch_text"]:
        lines += _wrapped(f"Batch: {card['batch_text']}")
    if card["marks"]["counts"]:
        lines.append(f"{_COUNTS} counts toward the meal: never run short")
    if card["marks"]["up"]:
        lines.append(f"{_UP} rounded up from the exact amount")
    return [*lines, *_wrapped(SAFETY_CAUTION), *_wrapped(card["source_text"])]


def _desk(card: dict[str, Any], alone: bool) -> list[str]:
    desk = card["desk"]
    name = " · ".join(part for part in (card["number_text"], card["title_text"]) if part)
    lines = [f"{visible(name)}: for the office", "═" * WIDTH, *(_banner(card) if alone else [])]
    lines += [
        "Nutrition, one portion",
        *table(
            [
                [visible(one["name_text"]), one["amount_text"], visible(one["missing_text"])]
                for one in desk["nutrients"]
            ],
            frozenset({1}),
        ),
    ]
    lines += _wrapped(
        "Rounded as 21 CFR 101.9(c) rounds. Sums of labels and table values, no analysis of the cooked dish.",
        "  ",
        "  ",
    )
    lines += [
        "",
        "Credits",
        *table(
            [
                [one["name_text"], f"exactly {one['exact_text']}", f"credits {one['credited_text']}"]
                for one in desk["credits"]
            ]
            or [["nothing"]]
        ),
    ]
    lines += ["", "Where each allergen comes from", *_allergen_sources(desk)]
    if desk["buying"]:
        rows = [
            ["", *card["batches"]],
            *(
                [visible(f"{one['name_text']} ({one['share_text']} of it is {one['for_text']})"), *one["weights"]]
                for one in desk["buying"]
            ),
        ]
        lines += ["", "To buy, as purchased", *table(_narrow(rows))]
    lines += [
        "",
        "On file",
        *table(
            [
                [visible(one["name_text"]), visible(one["credit_text"]), visible(f"label read: {one['label_text']}")]
                for one in desk["files"]
            ]
        ),
    ]
    lines += ["", *_wrapped(f"Cost: {desk['cost_text']} · tested: {desk['tested_text']}")]
    if desk["lacks"]:
        lines += _wrapped(f"What a standardized recipe also states, and this one does not: {', '.join(desk['lacks'])}.")
    return [
        *lines,
        *_wrapped(
            f"Computed from the labels that were read. {ALLERGEN_CAUTION} Labels, manufacturers' documents, the State agency and the local health code come first."
        ),
    ]


def _allergen_sources(desk: dict[str, Any]) -> list[str]:
    lines: list[str] = []
    for one in desk["allergens"]:
        verb = "" if one["verb_text"] == "contains" else f" ({one['verb_text']})"
        lines += _wrapped(f"{one['name_text']}{verb}: {one['roads_text']}", "  ", "    ")
    if not lines:
        lines.append("  No label read says “contains”.")
    if desk["made_without_text"]:
        lines += _wrapped(f"Stated to be made without: {desk['made_without_text']}", "  ", "    ")
    return lines


def _wrapped(text: str, first: str = "", rest: str = "") -> list[str]:
    return textwrap.wrap(visible(text), WIDTH, initial_indent=first, subsequent_indent=rest) or [first]
