"""A menu and a calendar, read from their lines."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import body_of, declaration_of
from recipelang.model.calendar import Calendar, build_calendar
from recipelang.model.menu import Menu, build_menu
from recipelang.model.names import Ref


@fact
def menu_of(facts: Facts, ref: Ref) -> Menu:
    """The menu that a reference means; the reference must mean one."""
    return build_menu(declaration_of(facts, ref).name, body_of(facts, ref), facts.settings.own_units)


@fact
def calendar_of(facts: Facts, ref: Ref) -> Calendar:
    """The calendar that a reference means; the reference must mean one."""
    return build_calendar(declaration_of(facts, ref).name, body_of(facts, ref))
