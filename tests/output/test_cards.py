"""Recipe cards: what stands on them, what they say of what is wrong or unknown, and that any text comes out as text."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest

from recipelang import Workspace
from recipelang.commands import run
from recipelang.facts.recipe.recipe import recipe_of
from recipelang.facts.recipe.scale import scaled_batch
from recipelang.output.as_html import book_page, card_page
from recipelang.output.card_text import WIDTH, card_text_lines
from recipelang.papers.book import book_of
from recipelang.papers.card import CardOptions, card_of
from tests.architecture.project import ROOT

EDGES = ("135 °F", "41 °F")

LIBRARY = """container small cup
    holds         5 fl oz
    headspace     1/4 fl oz

food diced pears
    price         1.50 per lb
    label read    2026-08-01
    contains      none of the nine
    may contain   soy
    arrives       ready to eat
    not tcs
    weighs        200 g per cup
    credits       1/4 cup fruit per 1/4 cup as served
    evidence      regulation

recipe pear cup
    number        F-01
    course        fruit
    makes         48 portions of 1/2 cup
    in            small cup
    process       no cook
    credits       1/2 cup fruit

    ingredients
        6 qt          diced pears, called fruit
        1 tsp         ground cinnamon

    steps
        - Portion [fruit] into the cups.
            ccp hold cold at 41 F or below up to 24 h
"""


class Page(HTMLParser):
    """The elements, ids, links and text of a page."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.scripts: list[str] = []
        self._script = False
        self.open: list[str] = []
        self.feed(page)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))
        self._script = tag == "script"
        if tag not in ("meta", "br", "link"):
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag, f"</{tag}> closes something else"
        self._script = False

    def handle_data(self, data: str) -> None:
        if self._script:
            self.scripts.append(data)
        else:
            self.text += data


def cards(text: str, *names: str) -> list[dict[str, Any]]:
    library = Workspace.of({"library.recipe": text})
    return [card_of(library.facts, name, CardOptions()) for name in names]


def page_of(text: str, name: str, side: str = "both") -> Page:
    return Page(card_page(cards(text, name)[0], side, "letter", EDGES))


def words_of(page: Page) -> str:
    return " ".join(page.text.replace("\u00a0", " ").split())


@pytest.fixture(scope="module")
def examples() -> Workspace:
    return Workspace.open([ROOT / "examples"])


@pytest.fixture(scope="module")
def all_cards(examples: Workspace) -> list[dict[str, Any]]:
    return [card_of(examples.facts, ref, CardOptions(library="Brindle Cove Schools")) for ref in examples.recipe_refs()]


# ---- nothing is lost -------------------------------------------------------------------------------------------------


def test_every_ingredient_and_every_process_line_stands_on_the_card_once(
    examples: Workspace, all_cards: list[dict[str, Any]]
) -> None:
    for card in all_cards:
        recipe = recipe_of(examples.facts, card["name_text"])
        batch = scaled_batch(examples.facts, card["name_text"], recipe.portions)
        shown = [line for step in card["steps"] for line in step["goes_in"]] + card["unnamed"]
        assert len(shown) == len(recipe.lines)
        told = sorted(
            (line["name_text"].casefold().removeprefix("or "), line["cells"][0]["first_text"]) for line in shown
        )
        assert told == sorted(
            (line.name.casefold(), line.sides[0].text if line.sides else "to taste") for line in batch.lines
        )
        assert sum(len(step["controls"]) for step in card["steps"]) == sum(len(step.controls) for step in recipe.steps)
        assert len(card["desk"]["timeline"]) == sum(len(step.controls) for step in recipe.steps)


def test_a_card_s_figures_are_those_of_evaluate(
    all_cards: list[dict[str, Any]], capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["evaluate", "--all", "--format", "json", "--workspace", str(ROOT / "examples")]) == 0
    figures = {one["name"]: one for one in json.loads(capsys.readouterr().out)["recipes"]}
    for card in all_cards:
        known = figures[card["name_text"]]
        assert card["contains_names"] == known["allergens"]["contains"]
        assert card["unknown"] == known["allergens"]["unknown"]
        assert card["defaults"] == known["allergens"]["labels"]["pantry_defaults"]
        assert len(card["desk"]["credits"]) == len(known["credits"])
        shown = re.search(r"\$(\d+\.\d\d) a portion", card["desk"]["cost_text"])
        assert shown is not None
        assert abs(float(shown[1]) - float(known["cost"]["value"])) < 0.0051


def test_text_keeps_to_its_width_and_holds_every_name(all_cards: list[dict[str, Any]]) -> None:
    for card in all_cards:
        lines = card_text_lines(card, "both")
        assert max(map(len, card_text_lines(card, "bench"))) <= WIDTH, card["name_text"]
        together = " ".join(" ".join(lines).split()).casefold()
        for line in (line for step in card["steps"] for line in step["goes_in"]):
            for word in line["name_text"].casefold().split():
                assert word in together


# ---- what is wrong, and what is not known ----------------------------------------------------------------------------


def test_a_clean_card_has_no_banner() -> None:
    assert "Do not cook" not in words_of(page_of(LIBRARY, "pear cup"))


@pytest.mark.parametrize(
    ("old", "new", "where"),
    [
        ("1/2 cup fruit\n\n", "3/4 cup fruit\n\n", ""),
        ("weighs        200 g per cup", "weighs        200 xx per cup", "diced pears"),
        ("holds         5 fl oz", "holds         4 zz", "small cup"),
        ("6 qt          diced pears", "6 qt          diced pars", ""),
    ],
)
def test_an_open_error_of_anything_it_rests_on_stands_above_a_card(old: str, new: str, where: str) -> None:
    broken = LIBRARY.replace(old, new)
    assert broken != LIBRARY
    card = cards(broken, "pear cup")[0]
    assert card["errors"]
    assert where in {error["where_text"] for error in card["errors"]}
    for shown in (words_of(page_of(broken, "pear cup")), "\n".join(card_text_lines(card, "bench"))):
        assert "DO NOT COOK FROM THIS CARD" in shown.upper()
        assert card["errors"][0]["message_text"].split()[0] in shown
    assert "DO NOT COOK" in "\n".join(card_text_lines(card, "desk"))
    assert "nutrition" not in card["recipe_data"]


def test_what_nobody_knows_is_said_and_nothing_says_free_of() -> None:
    unknown = LIBRARY.replace("    contains      none of the nine\n    may contain   soy\n", "")
    shown = words_of(page_of(unknown, "pear cup"))
    assert "NOT KNOWN: no label read for diced pears" in shown
    assert "BY A PANTRY DEFAULT, no label read: ground cinnamon" in shown
    assert not re.search(r"free of|free from|-free|allergens: none", shown)
    plain = words_of(page_of(LIBRARY.replace("    may contain   soy\n", ""), "pear cup"))
    assert "No label read says “contains”" in plain
    assert "Check every package" in plain


def test_an_ingredient_that_no_step_names_has_a_row_of_its_own() -> None:
    shown = words_of(page_of(LIBRARY, "pear cup"))
    assert "No step names these" in shown
    assert "1 tsp" in shown


def test_an_allowed_safety_finding_is_printed_with_its_reason() -> None:
    text = (
        "food graham square\nrecipe snack box\n    makes 50 portions\n"
        "    // allow allergen-unknown: the vendor's letter is on file\n    made without soy\n"
        "    ingredients\n        100 each graham square\n"
    )
    card = cards(text, "snack box")[0]
    assert ["the vendor's letter is on file" in message for message in card["allowed"]] == [True]
    for shown in (words_of(page_of(text, "snack box")), " ".join(card_text_lines(card, "bench"))):
        assert "Allowed (the vendor's letter is on file)" in shown
    tray = text + "recipe tray\n    makes 50 portions\n    ingredients\n        50 portions snack box\n"
    assert [message.partition(": ")[0] for message in cards(tray, "tray")[0]["allowed"]] == ["snack box"]


# ---- any text is text ------------------------------------------------------------------------------------------------

HOSTILE = [
    "<script>alert(1)</script>", "=cmd()", '"><img src=x onerror=alert(1)>', "{{ 7 * 7 }}", "{% include x %}",
    "</script><script>", "pears \u202ereversed", "pears \x1b[31mred", "x" * 70, "خبز عربي", "全麦面包", "&amp; it's \\",
]  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_any_text_comes_out_as_text(name: str) -> None:
    card = cards(LIBRARY, "pear cup")[0]
    told = json.loads(
        json.dumps(card).replace("Diced pears", "@@").replace("the fruit", "@@").replace("pear cup", "@@")
    )

    def filled(value: Any) -> Any:
        if isinstance(value, dict):
            return {key: filled(one) for key, one in value.items()}
        if isinstance(value, list):
            return [filled(one) for one in value]
        return value.replace("@@", name).replace("diced pears", name) if isinstance(value, str) else value

    hostile = filled(told)
    hostile["errors"] = [{"where_text": name, "message_text": name, "fix_text": name}]
    hostile["unknown"] = [name]
    for source in (
        card_page(hostile, "both", "letter", EDGES),
        book_page(book_of([hostile, card], name), "both", "letter", EDGES),
    ):
        page = Page(source)
        assert not page.open[0:0]
        assert {tag for tag, _ in page.elements} <= {
            "html", "head", "meta", "title", "style", "script", "body", "main", "article", "section", "nav", "header", "footer",
            "h1", "h2", "h3", "h4", "p", "b", "bdi", "strong", "span", "div", "br", "a", "ul", "ol", "li", "dl", "dt", "dd",
            "table", "caption", "thead", "tbody", "tr", "th", "td", "figure", "figcaption", "svg", "defs", "pattern", "rect",
            "circle", "path", "polygon", "polyline", "line", "text",
        }  # fmt: skip
        for tag, attributes in page.elements:
            assert not [key for key in attributes if key.startswith("on")], tag
            assert tag != "script" or attributes == {"type": "application/ld+json"}
        for script in page.scripts:
            assert json.loads(script)["@type"] == "Recipe"
        assert "\x1b" not in source
        assert "\u202e" not in source
    if name.isprintable() and "\u202e" not in name:
        assert name in page_text(card_page(hostile, "bench", "letter", EDGES))
    lines = "\n".join(card_text_lines(hostile, "both"))
    assert "\x1b" not in lines
    assert "\u202e" not in lines


def page_text(source: str) -> str:
    return Page(source).text


def test_a_page_asks_for_nothing(all_cards: list[dict[str, Any]]) -> None:
    source = book_page(book_of(all_cards[:6], "Brindle Cove Schools"), "both", "a4", EDGES)
    assert "default-src 'none'" in source
    for _, attributes in Page(source).elements:
        assert "src" not in attributes
        assert not attributes.get("href", "#").startswith(("http", "//")) if attributes.get("href") else True


# ---- books, data, bytes ----------------------------------------------------------------------------------------------


def test_a_book_s_ids_are_its_own_and_every_link_leads_to_a_card(all_cards: list[dict[str, Any]]) -> None:
    page = Page(book_page(book_of(all_cards, "Brindle Cove Schools"), "both", "letter", EDGES))
    ids = [attributes["id"] for _, attributes in page.elements if "id" in attributes]
    assert len(ids) == len(set(ids))
    links = [attributes["href"] or "" for tag, attributes in page.elements if tag == "a"]
    assert {link.removeprefix("#") for link in links} <= set(ids)
    assert len(set(links)) == len(all_cards)
    assert [tag for tag, _ in page.elements].count("h1") == 1


def test_the_index_by_allergen_holds_what_may_contain_it_and_what_nobody_knows() -> None:
    unknown = LIBRARY.replace("    contains      none of the nine\n    may contain   soy\n", "").replace(
        "pear cup", "plain cup"
    )
    book = book_of([*cards(LIBRARY, "pear cup"), *cards(unknown, "plain cup")], "")
    found = {
        one["name_text"]: [(card["title_text"], card["note_text"]) for card in one["cards"]]
        for one in book["by_allergen"]
    }
    assert found["Soy"] == [("Pear cup", "may contain")]
    assert found["Not known: no label read for something in it"] == [("Plain cup", "diced pears")]


def test_recipe_data_says_what_schema_org_names() -> None:
    """https://schema.org/Recipe"""
    data = json.loads(page_of(LIBRARY, "pear cup").scripts[0])
    assert data["@context"] == "https://schema.org"
    assert data["recipeYield"] == "48 portions of 1/2 cup"
    assert data["recipeIngredient"] == ["6 qt diced pears", "1 tsp ground cinnamon"]
    assert data["recipeInstructions"][0]["text"].endswith("CCP: Hold cold 41 °F or below, up to 24 h.")
    assert "suitableForDiet" not in data


def test_the_same_library_gives_the_same_bytes_in_any_process(tmp_path: Path) -> None:
    made: list[bytes] = []
    for seed, zone in (("1", "UTC"), ("2", "Asia/Tokyo")):
        out = tmp_path / f"{seed}.html"
        environment = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone}
        subprocess.run(
            [sys.executable, "-m", "recipelang", "print", "card", "naan dough", "apricot ricotta cup", "-o", str(out)],
            cwd=ROOT / "examples", env=environment, check=True, capture_output=True,
        )  # fmt: skip
        made.append(out.read_bytes())
    assert made[0] == made[1]


def test_only_a_page_needs_jinja2(tmp_path: Path) -> None:
    for arguments, needs in (
        (["print", "card", "pear cup"], False),
        (["print", "card", "pear cup", "--to", "html"], True),
    ):
        (tmp_path / "library.recipe").write_text(LIBRARY, encoding="utf-8")
        script = (
            "import contextlib, io, sys\nfrom recipelang.commands import run\n"
            "with contextlib.redirect_stdout(io.StringIO()):\n    run(sys.argv[1:])\nprint('jinja2' in sys.modules)"
        )
        done = subprocess.run(
            [sys.executable, "-c", script, *arguments], cwd=tmp_path, capture_output=True, text=True, check=True
        )
        assert done.stdout.strip() == str(needs)


@pytest.mark.parametrize("path", sorted((ROOT / "examples" / "broken").glob("*.recipe")), ids=lambda path: path.stem)
def test_every_recipe_with_an_error_has_its_banner(path: Path) -> None:
    library = Workspace.of({path.name: path.read_text(encoding="utf-8")})
    for ref in library.recipe_refs():
        card = card_of(library.facts, ref, CardOptions())
        own = [one for home in library.homes(ref)[:1] for one in library.declaration_findings(home)]
        assert bool(card["errors"]) >= any(one.severity == "error" for one in own)
        Page(card_page(card, "both", "letter", EDGES))
        assert ("DO NOT COOK" in "\n".join(card_text_lines(card, "both"))) == bool(card["errors"])
