"""`recipelang evaluate`, end to end: the figures of a portion, a batch, another number of portions."""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

import recipelang
from tests.commands.conftest import Command
from tests.commands.shapes import EXACT, OPTIONAL, misfits


def recipe(command: Command, *arguments: str) -> dict[str, Any]:
    done = command("evaluate", *arguments, "--format", "json")
    assert done.code == 0, done.err
    (found,) = json.loads(done.out)["recipes"]
    return dict(found)


# ---- the JSON --------------------------------------------------------------------------------------------------------

AMOUNT = (EXACT, OPTIONAL)
DOCUMENT = {
    "version": int,
    "recipes": [
        {
            "name": str, "path": str, "portions": AMOUNT,
            "portion": {"stated": (str, OPTIONAL), "mass_g": AMOUNT, "volume_fl_oz": AMOUNT},
            "credits": [
                {
                    "component": ("fruit", "vegetable", "grain", "meat alternate", "milk"), "unit": ("cup", "oz eq"),
                    "exact": EXACT, "credited": EXACT,
                }
            ],
            "allergens": {
                "contains": [str], "may_contain": [str], "unknown": [str],
                "labels": {"read": [{"name": str, "on": str}], "pantry_defaults": [str], "undated": [str]},
                "errors": int, "caution": str,
            },
            "nutrients": {
                "per": ("portion", "batch"),
                "values": {"*": {"value": AMOUNT, "unit": ("kcal", "g", "mg", "mcg"), "missing_from": [str]}},
            },
            "cost": {"value": AMOUNT, "unit": "USD", "missing_from": [str]},
            "yield": {"mass_g": AMOUNT, "volume_fl_oz": AMOUNT},
            "container": ({"name": str, "holds_fl_oz": AMOUNT, "filled_fl_oz": AMOUNT}, OPTIONAL),
            "safety": {
                "process": (str, OPTIONAL), "computed": (str, OPTIONAL), "keeps": ({"value": EXACT, "unit": str}, OPTIONAL),
                "errors": int, "caution": str,
            },
            "ingredients": [{"name": str, "amount": str, "mass_g": AMOUNT, "credits": [{"component": str, "exact": EXACT}]}],
        }
    ],
}  # fmt: skip

NUTRIENTS = [
    "calories", "total fat", "saturated fat", "trans fat", "cholesterol", "sodium", "carbohydrate", "dietary fiber",
    "total sugars", "added sugars", "protein", "vitamin D", "calcium", "iron", "potassium",
]  # fmt: skip


def test_the_json_has_the_shape_that_programs_rely_on(library: Path, command: Command) -> None:
    done = command("evaluate", "--all", "--format", "json")
    document = json.loads(done.out)
    assert misfits(document, DOCUMENT) == []
    assert document["version"] == 1
    assert [one["name"] for one in document["recipes"]] == ["pear ricotta cup", "plain ricotta cup", "salted pears"]


def test_every_nutrient_is_named_even_where_it_is_unknown(library: Path, command: Command) -> None:
    """A program must be able to tell unknown from absent: an unknown one is there, null, with what it misses."""
    values = recipe(command, "salted pears")["nutrients"]["values"]
    assert list(values) == NUTRIENTS
    assert values["iron"] == {"value": None, "unit": "mg", "missing_from": ["diced pears", "sea salt"]}


def test_the_figures_are_those_worked_out_by_hand(library: Path, command: Command) -> None:
    """6 lb of ricotta at 1 oz eq for 2 oz, 24 cups of pears and 48 crisps, for 48 portions."""
    found = recipe(command, "pear ricotta cup")
    credits = [(row["component"], row["unit"], row["exact"], row["credited"]) for row in found["credits"]]
    assert credits == [
        ("meat alternate", "oz eq", "1", "1"),
        ("grain", "oz eq", "1", "1"),
        ("fruit", "cup", "1/2", "1/2"),
    ]
    # 96 oz of 28.349523125 g, 24 cups of 200 g and 48 of 28 g
    assert found["yield"]["mass_g"] == "8865.6"
    # sodium: 2721.55 g at 1 mg, 4800 g at 0.05 mg, 48 at 140 mg; in all 9681.55 mg
    assert found["nutrients"]["values"]["sodium"]["value"] == "201.7"
    # 6 lb at $2.00, 10.582 lb at $1.50, 48 crisps at $0.20, 48 cups at $0.10: $42.27
    assert found["cost"] == {"value": "0.8807", "unit": "USD", "per": "portion", "batch": "42.27", "missing_from": []}
    assert found["allergens"]["contains"] == ["milk", "wheat"]
    assert found["allergens"]["may_contain"] == ["soy"]
    # 96 oz of ricotta at 240 g a cup is 11.34 cups; with the pears 35.34 cups in 48 cups of 12 fl oz
    assert found["container"]["filled_fl_oz"] == "5.89"
    assert found["safety"]["keeps"]["value"] == "72"
    assert (found["safety"]["process"], found["safety"]["computed"]) == ("no cook", "no cook")


def test_a_variation_is_evaluated_as_a_recipe_of_its_own(library: Path, command: Command) -> None:
    found = recipe(command, "plain ricotta cup")
    assert [row["component"] for row in found["credits"]] == ["meat alternate", "fruit"]
    assert found["allergens"]["contains"] == ["milk"]
    assert [line["name"] for line in found["ingredients"]] == ["whipped ricotta", "diced pears"]


VEGETABLES = """
food carrot coins
    credits 1/4 cup red/orange vegetable per 1/4 cup
food sweet corn
    credits 1/4 cup starchy vegetable per 1/4 cup
recipe corn and carrots
    makes 16 portions of 1/2 cup
    ingredients
        5 cups carrot coins
        3 cups sweet corn
"""


def test_vegetables_name_their_subgroup_and_have_a_total(library: Path, command: Command) -> None:
    (library / "vegetables.recipe").write_text(VEGETABLES, encoding="utf-8")
    rows = [(row["component"], row["subgroup"], row["exact"]) for row in recipe(command, "corn and carrots")["credits"]]
    assert ("vegetable", "red-orange", "5/16") in rows
    assert ("vegetable", "starchy", "3/16") in rows
    assert ("vegetable", None, "1/2") in rows


def test_what_is_unknown_is_named_and_never_zero(library: Path, command: Command) -> None:
    text = (
        "food secret sauce\n    weighs 240 g per cup\n"
        "recipe saucy pears\n    makes 10 portions\n    ingredients\n        5 cups diced pears\n        1 cup secret sauce\n"
    )
    (library / "sauce.recipe").write_text(text, encoding="utf-8")
    found = recipe(command, "saucy pears")
    assert found["allergens"]["unknown"] == ["secret sauce"]
    assert found["cost"]["missing_from"] == ["secret sauce"]
    assert found["nutrients"]["values"]["sodium"]["missing_from"] == ["secret sauce"]
    assert Fraction(found["nutrients"]["values"]["sodium"]["value"]) == 5


# ---- portions, per ---------------------------------------------------------------------------------------------------


def test_other_numbers_of_portions_scale_the_batch_and_leave_the_portion(library: Path, command: Command) -> None:
    own, hundred = recipe(command, "pear ricotta cup"), recipe(command, "pear ricotta cup", "--portions", "96")
    assert hundred["portions"] == "96"
    assert hundred["credits"] == own["credits"]
    assert hundred["nutrients"] == own["nutrients"]
    assert hundred["cost"]["value"] == own["cost"]["value"]
    assert (own["cost"]["batch"], hundred["cost"]["batch"]) == ("42.27", "84.55"), "2 x $42.2733, rounded once"
    assert hundred["yield"]["mass_g"] == "17731.1"
    assert [line["amount"] for line in hundred["ingredients"]] == ["12 lb", "12 qt", "96 each"]
    assert [line["kitchen"] for line in hundred["ingredients"]] == ["12 lb", "3 gal", "96 each"]
    assert hundred["portion"] == own["portion"]


def test_scaled_amounts_are_exact_and_the_kitchens_stand_beside_them(library: Path, command: Command) -> None:
    found = recipe(command, "salted pears", "--portions", "50")
    assert found["ingredients"][0]["amount"] == "1 gal 2 qt 1 cup"
    assert found["ingredients"][1]["kitchen"] == "1 tsp"
    text = command("evaluate", "salted pears", "--portions", "50").out
    assert "50 portions" in text
    assert "exactly" in text


def test_per_batch_multiplies_what_is_per_portion(library: Path, command: Command) -> None:
    batch = recipe(command, "pear ricotta cup", "--per", "batch")
    assert batch["nutrients"]["per"] == "batch"
    assert batch["nutrients"]["values"]["sodium"]["value"] == "9681.6"
    assert batch["cost"]["value"] == "42.2733"
    twice = recipe(command, "pear ricotta cup", "--per", "batch", "--portions", "96")
    assert twice["nutrients"]["values"]["sodium"]["value"] == "19363.1"
    assert twice["cost"]["value"] == "84.5466"


@pytest.mark.parametrize("portions", ["0", "-5", "many", "1/0", ""])
def test_portions_must_be_a_number_above_zero(library: Path, command: Command, portions: str) -> None:
    done = command("evaluate", "salted pears", "--portions", portions)
    if portions:
        assert (done.code, done.out) == (2, "")
        assert "--portions" in done.err
    else:
        assert done.code == 0, "nothing written is nothing asked"


# ---- names -----------------------------------------------------------------------------------------------------------


def test_names_are_free_in_case_and_spacing(library: Path, command: Command) -> None:
    assert recipe(command, "  Pear   RICOTTA cup ")["name"] == "pear ricotta cup"


@pytest.mark.parametrize("name", ["pear ricota cup", "peer ricotta cup"])
def test_an_unknown_name_gets_the_nearest(library: Path, command: Command, name: str) -> None:
    done = command("evaluate", name)
    assert done.code == 2
    assert f"no recipe or variation is called `{name}`; did you mean `pear ricotta cup`" in done.err


def test_part_of_a_name_is_enough_to_be_asked(library: Path, command: Command) -> None:
    assert "`pear ricotta cup` or `plain ricotta cup`" in command("evaluate", "ricotta").err


def test_a_food_is_no_recipe(library: Path, command: Command) -> None:
    done = command("evaluate", "diced pears")
    assert done.code == 2
    assert "is a food; the command takes recipes and variations" in done.err


def test_no_name_is_2(library: Path, command: Command) -> None:
    done = command("evaluate")
    assert done.code == 2
    assert "name a recipe or a menu, or write --all" in done.err


def test_a_recipe_with_errors_is_still_evaluated(library: Path, command: Command) -> None:
    """What could be read is computed, what could not be is missing by name."""
    text = "recipe odd pears\n    makes 10 portions\n    ingredients\n        5 cups diced pears\n        2 lb dicd pears\n"
    (library / "odd.recipe").write_text(text, encoding="utf-8")
    found = recipe(command, "odd pears")
    assert found["yield"]["missing_from"] == ["dicd pears"]
    assert "missing_from" in found["credits"][0]
    assert found["credits"][0]["missing_from"] == ["dicd pears"]


# ---- text and the library call ---------------------------------------------------------------------------------------

SCREEN = """plain ricotta cup: 48 portions of 3/4 cup
  portion  5 1/2 oz (157 g)       3/4 cup
  batch    16 lb 9 1/4 oz (7522 g)  2 gal 3 1/4 cups 1 tbsp 1 1/4 tsp
  process  no cook

Credits of a portion
  meat/meat alternate  1 oz eq  exactly 1 oz eq
  fruit                1/2 cup  exactly 1/2 cup

Allergens
  contains     milk  from whipped ricotta
  may contain  soy   from diced pears
"""


def test_figures_read_like_this(library: Path, command: Command) -> None:
    shown = command("evaluate", "plain ricotta cup").out
    assert [" ".join(line.split()) for line in shown.splitlines()][: SCREEN.count("\n")] == [
        " ".join(line.split()) for line in SCREEN.splitlines()
    ]
    assert "Check every package" in shown


def test_all_prints_every_recipe_once(library: Path, command: Command) -> None:
    shown = command("evaluate", "--all").out
    for name in ("pear ricotta cup", "plain ricotta cup", "salted pears"):
        assert shown.count(f"{name}: 48 portions") == 1


def test_the_library_call_gives_the_same(library: Path, command: Command) -> None:
    workspace = recipelang.Workspace.open([library])
    assert recipelang.figures(workspace, "Salted pears") == recipe(command, "salted pears")
    assert recipelang.check(workspace) == []
    with pytest.raises(KeyError):
        recipelang.figures(workspace, "no such thing")


def test_another_library_is_named_by_its_folder_or_a_file(
    library: Path, command: Command, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(library.parent)
    assert recipe(command, "salted pears", "--workspace", str(library))["name"] == "salted pears"
    assert recipe(command, "salted pears", "--workspace", str(library / "foods.recipe"))["name"] == "salted pears"
    done = command("evaluate", "salted pears", "--workspace", "nowhere")
    assert (done.code, "there is no file or folder nowhere" in done.err) == (2, True)


def test_what_stands_beside_a_portion_is_told_by_its_weight(library: Path, command: Command) -> None:
    """The stated volume is without the crisp, the weight with it."""
    done = command("evaluate", "pear ricotta cup")
    portion = next(line for line in done.out.splitlines() if line.startswith("  portion"))
    assert portion.endswith("of it on the side")
    assert "3/4 cup" in portion
    plain = command("evaluate", "plain ricotta cup").out
    assert "on the side" not in plain


# ---- what a reader must not miss -------------------------------------------------------------------------------------

UNSAFE = """
food raw drumsticks
    contains none of the nine
    label read 2026-08-01
    arrives raw poultry
food shop crumble
recipe baked drumsticks
    course entree
    makes 50 portions of 4 oz
    made without milk
    ingredients
        12 lb 8 oz raw drumsticks
        1 lb shop crumble
    steps
        - Bake [raw drumsticks] in [shop crumble].
            ccp cook to 130 F for 15 s
            ccp hold hot at 120 F or above up to 2 h
recipe drumstick plate
    course entree
    makes 50 portions of 4 oz
    ingredients
        1 batch baked drumsticks
        1 cup canned black beans drained, credited as vegetable
    steps
        - Plate [baked drumsticks] with [canned black beans drained].
"""


def test_a_card_says_that_its_recipe_has_errors(library: Path, command: Command) -> None:
    """Figures of a dish that hurts somebody are not printed in silence; a dish made of it says so too."""
    (library / "unsafe.recipe").write_text(UNSAFE, encoding="utf-8")
    for name in ("baked drumsticks", "drumstick plate"):
        lines = command("evaluate", name).out.split("\n")
        assert lines[1].endswith("and 1 allergen error: run `recipelang check`"), lines[1]
        assert "safety error" in lines[1]
        assert lines[1].strip() in command("trace", name, "safety").out
        found = recipe(command, name)
        assert found["safety"]["errors"] >= 2
        assert found["allergens"]["errors"] == 1


def test_a_card_says_which_labels_were_read(library: Path, command: Command) -> None:
    (library / "unsafe.recipe").write_text(UNSAFE, encoding="utf-8")
    shown = command("evaluate", "drumstick plate").out
    assert "  Labels read: 1 of 3; the oldest on August 1, 2026 (raw drumsticks).\n" in shown
    assert (
        "  Not read: canned black beans drained (pantry default); shop crumble (no statement). Read the package before you rely "
        "on this.\n"
    ) in shown
    labels = recipe(command, "drumstick plate")["allergens"]["labels"]
    assert labels == {
        "read": [{"name": "raw drumsticks", "on": "2026-08-01"}],
        "pantry_defaults": ["canned black beans drained"],
        "undated": [],
    }
