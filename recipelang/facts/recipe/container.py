"""A container, read from its lines."""

from __future__ import annotations

from recipelang.evaluate.facts import Facts, fact
from recipelang.evaluate.names import body_of, declaration_of
from recipelang.model.container import Container, build_container
from recipelang.model.names import Ref


@fact
def container_of(facts: Facts, ref: Ref) -> Container:
    """The container that a reference means; the reference must mean one."""
    return build_container(declaration_of(facts, ref).name, body_of(facts, ref), facts.settings.own_units)
