"""Where a nutrient stands in a food's nutrition statement."""

from __future__ import annotations

from recipelang.model.nutrient_names import nutrient_of
from recipelang.rules.rule import Subject
from recipelang.syntax import tree
from recipelang.syntax.split import fold


def line_of(subject: Subject, name: str) -> tree.Nutrient | None:
    """The line of a nutrient; None for one that no line gives."""
    for line in subject.body.lines:
        if isinstance(line, tree.Nutrition):
            for nutrient in line.nutrients:
                key = fold(nutrient.name.text)
                if nutrient_of(key) == name:
                    return nutrient
    return None
