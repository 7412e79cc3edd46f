"""Messages that no client should send: drawn at random from all methods of the protocol and whatever the server has
besides, with parameters that are right, half right or nonsense, and bytes that are no messages at all."""

from __future__ import annotations

import enum
import json
import random
import types as python_types
import typing
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Final

import attrs
from lsprotocol import types

from tests.properties.edits import MORE
from tests.properties.slips import declarations

NEVER: Final = frozenset({"shutdown", "exit"})
"""What ends a session is sent when it shall end."""
WORDS: Final = (
    "", "x", "food ", "recipe crème 🍑 cup\n    makes 2 portions\n", "    ingredients\n        1 cup milk\n", "\n", "\r\n",
    "½", "🍑", "((", "//", "\ufeff", "\0", "\ud800", "\u2028", "e\u0301", "whipped ricotta", "1" * 400, "    " * 50, "menu week\n",
    "quickfix", "refactor", "recipelang.card", "recipelang.trace", "recipelang.sinceLastCommit", "recipelang.without", "sodium",
)  # fmt: skip
METHODS: Final = tuple(
    sorted(
        method
        for method in types.METHOD_TO_TYPES
        if method not in NEVER and types.message_direction(method) != "serverToClient"
    )
)
_FAR: Final = (0, 1, 12, 30, 10**6, 2**31 - 1)
_SMALL: Final = 6
"""How deep parameters are made from their types, at most."""


def deep(depth: int) -> str:
    """JSON that is nested deeply."""
    return "[" * depth + "]" * depth


class Abuser:
    """Draws messages. `uris` are documents that there may be; no other file is ever named. `methods` and `commands` are
    those that the server has."""

    def __init__(self, seed: int, uris: Sequence[str], methods: Sequence[str], commands: Sequence[str]) -> None:
        self.chance = random.Random(seed)
        self.likely = uris
        self.uris = (
            *uris,
            "untitled:one",
            "file://[",
            "",
            "git:/a.recipe?x",
            "file:///nowhere/%00/a.recipe",
            "🍑",
            "http:",
        )
        self.methods = methods
        self.commands = commands
        self.asked: set[int | str] = set()
        """Ids of requests that were sent whole, each once: each must be answered once."""
        self.doubtful: set[int | str] = set()
        """Ids of which that can't be said."""
        self._number = 0
        self._recent: list[int | str] = [0]

    def message(self) -> bytes:
        """The next message, or what takes its place."""
        draw: Callable[[], bytes] = self.chance.choices(
            (self.request, self.edit, self.notification, self.cancel, self.again, self.answer, self.broken, self.nonsense),
            (50, 20, 4, 8, 3, 3, 6, 6),
        )[0]  # fmt: skip
        return draw()

    # ---- what is nearly right ----

    def request(self) -> bytes:
        method = self.method()
        return self.framed({"id": self.fresh_id(method), "method": method, **self.params(method)})

    def notification(self) -> bytes:
        method = self.method()
        return self.framed({"method": method, **self.params(method)})

    def edit(self) -> bytes:
        """What editors send most, on documents that may be open or not, with any version."""
        uri, chance = self.uri(), self.chance
        document: dict[str, Any] = {
            "uri": uri,
            "version": chance.choice((1, 2, 3, 0, -1, chance.randint(0, 2**31 - 1))),
        }
        kind = chance.choices(("didOpen", "didChange", "didClose"), (3, 12, 1))[0]
        params: dict[str, Any] = {"textDocument": document}
        if kind == "didOpen":
            document |= {"languageId": "recipelang", "text": self.text()}
        elif kind == "didChange":
            params["contentChanges"] = [self.change() for _ in range(chance.choice((1, 1, 1, 2, 5)))]
        return self.framed({"method": f"textDocument/{kind}", "params": params})

    def change(self) -> dict[str, Any]:
        if self.chance.random() < 0.1:
            return {"text": self.text()}
        return {"range": {"start": self.position(), "end": self.position()}, "text": self.chance.choice(WORDS)}

    def cancel(self) -> bytes:
        wanted = self.chance.choice((*self._recent[-3:], None, [], -1, "no such", 2**70))
        return self.framed({"method": "$/cancelRequest", "params": {"id": wanted}})

    def again(self) -> bytes:
        """A request with an id that was used before, perhaps of one that is not answered yet."""
        used = self.chance.choice(self._recent[-3:])
        self.doubtful.add(used)
        method = self.method()
        return self.framed({"id": used, "method": method, **self.params(method)})

    def answer(self) -> bytes:
        """An answer that nobody has asked for."""
        what = self.chance.choice(
            ({"result": self.anything()}, {"error": self.anything()}, {"result": None, "error": None})
        )
        return self.framed({"id": self.chance.choice((*self._recent[-2:], None, "x", [])), **what})

    # ---- what is wrong ----

    def broken(self) -> bytes:
        """Bytes that are no message, and as much padding as the next head needs to be found."""
        chance = self.chance
        body = json.dumps({"jsonrpc": "2.0", "method": "x", "params": self.anything()}).encode()
        return chance.choice((
            b"Content-Length: %d\r\n\r\n%b" % (len(body) + chance.randint(1, 300), body),
            b"Content-Length: %d\r\n\r\n%b" % (max(0, len(body) - chance.randint(1, 300)), body),
            b"Content-Length: -1\r\n\r\n", b"Content-Length: 9999999999\r\n\r\n", b"Content-Length: x\r\n\r\n",
            b"Content-Length: 0\r\n\r\n", b"content-length:%d\n\n%b" % (len(body), body), b"\r\n\r\n\r\n", b"\0" * 9000,
            b"Content-Type: x\r\n\r\n", b"GET / HTTP/1.1\r\nHost: x\r\n\r\n", chance.randbytes(chance.randint(1, 3000)),
            b"X: " + b"y" * 20_000 + b"\r\n\r\n",
        )) + b"\r\n\r\n" * 100  # fmt: skip

    def nonsense(self) -> bytes:
        """A frame as it should be around anything."""
        chance = self.chance
        body = chance.choice((
            b"", b"{", b"null", b"[]", b"1", b'"x"', b"NaN", b"\xff\xfe\xfa", b'{"jsonrpc": "2.0"}', b"[" * 50_000,
            deep(100_000).encode(), b'{"jsonrpc":"2.0","id":1e999,"method":"x"}', b"9" * 10_000,
            b'{"jsonrpc":"2.0","id":null,"method":"initialize"}', b'{"jsonrpc":"2.0","method":["x"],"params":{}}',
            b'{"jsonrpc":"2.0","id":{},"method":"textDocument/hover"}', b'{"jsonrpc":"1.0","id":1,"method":"x"}',
            f'{{"jsonrpc":"2.0","method":"workspace/didChangeConfiguration","params":{{"settings":{deep(20_000)}}}}}'.encode(),
            json.dumps([{"jsonrpc": "2.0", "id": 1, "method": "textDocument/hover"}]).encode(),
            json.dumps({"jsonrpc": "2.0", "id": True, "method": "x", "params": self.anything()}).encode(),
            json.dumps({"jsonrpc": "2.0", "id": [1], "result": self.anything()}).encode(),
            json.dumps({"jsonrpc": "2.0", "method": chance.choice(WORDS), "params": self.anything()}).encode(),
            b'{"jsonrpc":"2.0","id":1,"error":%b}' % chance.choice((b"null", b"{}", b"1")),
        ))  # fmt: skip
        self.doubtful.add(1)
        return b"Content-Length: %d\r\n\r\n%b" % (len(body), body)

    # ---- parts ----

    def method(self) -> str:
        return self.chance.choice(self.methods if self.chance.random() < 0.8 else METHODS)

    def uri(self) -> str:
        return self.chance.choice(self.likely if self.chance.random() < 0.8 else self.uris)

    def framed(self, message: dict[str, Any]) -> bytes:
        body = json.dumps({"jsonrpc": "2.0", **message}, ensure_ascii=self.chance.random() < 0.5)
        data = body.encode("utf-8", "surrogatepass")
        extra = self.chance.choice(("", "", "", "Content-Type: application/vscode-jsonrpc; charset=utf-8\r\n"))
        return f"Content-Length: {len(data)}\r\n{extra}\r\n".encode() + data

    def fresh_id(self, method: str) -> int | str:
        self._number += 1
        name: int | str = self._number if self._number % 2 else f"{method} {self._number}"
        self._recent.append(name)
        self.asked.add(name)
        return name

    def params(self, method: str) -> dict[str, Any]:
        """Parameters of a method: as its type says, nearly so, none, or anything."""
        kind = self.chance.choices(("right", "damaged", "none", "any"), (82, 12, 2, 4))[0]
        known = types.METHOD_TO_TYPES.get(method, (None, None, None))[2]
        if kind == "none" or (known is None and kind != "any"):
            return {}
        if kind == "any":
            return {"params": self.anything()}
        made = self.made(known, "", 0)
        if method == types.WORKSPACE_EXECUTE_COMMAND and self.commands:
            made["command"] = self.chance.choice(self.commands)
        return {"params": made if kind == "right" else self.damaged(made)}

    def made(self, kind: Any, name: str, depth: int) -> Any:
        """A value of a type of the protocol."""
        chance = self.chance
        if name in ("uri", "old_uri", "new_uri", "target_uri", "scope_uri") and kind is not type(None):
            return self.uri()
        if name in (
            "process_id",
            "root_path",
        ):  # a server whose client is gone ends, and one must not read a whole disk
            return None
        if kind is types.Position:
            return self.position()
        if kind is types.Range:
            return {"start": self.position(), "end": self.position()}
        if attrs.has(kind):
            attrs.resolve_types(kind)
            return {
                _camel(field.name): self.made(field.type, field.name, depth + 1)
                for field in attrs.fields(kind)
                if field.default is attrs.NOTHING or (depth < _SMALL and chance.random() < 0.5)
            }
        origin, arguments = typing.get_origin(kind), typing.get_args(kind)
        if origin in (typing.Union, python_types.UnionType):
            plain = [one for one in arguments if one is not type(None)]
            return (
                None
                if len(plain) < len(arguments) and chance.random() < 0.3
                else self.made(chance.choice(plain), name, depth)
            )
        if origin is typing.Literal:
            return chance.choice(arguments)
        if isinstance(origin, type) and issubclass(origin, Mapping):
            return {chance.choice(WORDS): self.anything() for _ in range(chance.randint(0, 2))}
        if origin is tuple:
            return [self.made(one, name, depth + 1) for one in arguments]
        if isinstance(origin, type) and issubclass(origin, Sequence):
            return [self.made(arguments[0], name, depth + 1) for _ in range(chance.choice((0, 1, 1, 2, 3)))]
        if isinstance(kind, type) and issubclass(kind, enum.Enum):
            return chance.choice([*kind]).value
        if kind is bool:
            return chance.random() < 0.5
        if kind is int:
            return chance.choice((0, 1, 2, 7, 2**31 - 1))
        if kind is str:
            return chance.choice(WORDS)
        return self.anything()

    def damaged(self, value: Any) -> Any:
        """A value with something in it lost or become something else."""
        chance = self.chance
        if not isinstance(value, dict | list) or not value or chance.random() < 0.2:
            return self.anything()
        keys = [*value] if isinstance(value, dict) else [*range(len(value))]
        at = chance.choice(keys)
        value = value.copy()
        if chance.random() < 0.3:
            del value[at]
        else:
            value[at] = self.damaged(value[at])
        return value

    def position(self) -> dict[str, Any]:
        if self.chance.random() < 0.1:
            return {"line": self.chance.choice(_FAR), "character": self.chance.choice(_FAR)}
        return {
            "line": self.chance.randint(0, 30),
            "character": self.chance.choice((0, 4, 5, 8, 10, self.chance.randint(0, 40))),
        }

    def text(self) -> str:
        """A document's text; now and then a long one, or one of nothing but openings."""
        chance = self.chance
        if chance.random() < 0.01:
            return chance.choice(("(" * 20_000, "food x\n" * 2_000, "x" * 100_000, "    " * 20_000, "\r" * 5_000))
        written = (*declarations().values(), *MORE)
        return "".join(chance.choice(written if chance.random() < 0.7 else WORDS) for _ in range(chance.randint(0, 8)))

    def anything(self) -> Any:
        chance = self.chance
        return chance.choice((
            None, True, 0, -1, 1.5, 2**70, "", "🍑", "x" * 1_000, [], {}, [[[[[]]]]], {"uri": 5}, {"line": -1}, [None, {}],
            {"": {"": {"": 0}}}, chance.choice(WORDS), json.loads(deep(chance.choice((5, 50, 200)))), chance.choice(self.uris),
        ))  # fmt: skip


def _camel(name: str) -> str:
    first, *rest = name.rstrip("_").split("_")
    return first + "".join(map(str.capitalize, rest))
