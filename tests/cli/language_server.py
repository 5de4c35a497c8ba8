"""A language server for YAML, spoken to as an editor does (Language Server Protocol, over its standard streams)."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from types import TracebackType
from typing import Any, Self

ABILITIES = {
    "textDocument": {
        "completion": {"completionItem": {"snippetSupport": True, "documentationFormat": ["plaintext"]}},
        "hover": {"contentFormat": ["plaintext"]},
    }
}


class Editor:
    """Opens files in a folder and asks about them. Every wait ends when the server does (a test has a time limit)."""

    def __init__(self, modules: Path, folder: Path) -> None:
        self.folder = folder
        program = modules / "yaml-language-server" / "bin" / "yaml-language-server"
        self._server = subprocess.Popen(
            ["node", str(program), "--stdio"], stdin=subprocess.PIPE, stdout=subprocess.PIPE, cwd=folder
        )
        self._number = 0
        self._told: dict[str, list[dict[str, Any]]] = {}

    def __enter__(self) -> Self:
        about = {"processId": None, "rootUri": self.folder.as_uri(), "capabilities": ABILITIES}
        self._ask("initialize", about)
        self._send({"method": "initialized", "params": {}})
        return self

    def __exit__(
        self, kind: type[BaseException] | None, problem: BaseException | None, trace: TracebackType | None
    ) -> None:
        self._server.kill()
        self._server.communicate()

    def complete(self, name: str, text: str) -> dict[str, str]:
        """What is offered where `|` stands in the text, each with what is said of it."""
        found = self._at(name, text, "textDocument/completion")
        items = found["items"] if isinstance(found, dict) else found
        return {item["label"]: _words(item.get("documentation")) for item in items}

    def hover(self, name: str, text: str) -> str:
        """What is said of the word behind `|`."""
        found = self._at(name, text, "textDocument/hover")
        return _words(found["contents"]) if found else ""

    def problems(self, name: str, text: str) -> list[tuple[int, str]]:
        """Line (from 1) and words of each problem told of."""
        uri = self._open(name, text)
        while uri not in self._told:
            self._listen()
        return [(each["range"]["start"]["line"] + 1, each["message"]) for each in self._told[uri]]

    def _at(self, name: str, text: str, method: str) -> Any:
        before, _, after = text.partition("|")
        uri = self._open(name, before + after)
        place = {"line": before.count("\n"), "character": len(before) - before.rfind("\n") - 1}
        return self._ask(method, {"textDocument": {"uri": uri}, "position": place})

    def _open(self, name: str, text: str) -> str:
        uri = (self.folder / name).as_uri()
        document = {"uri": uri, "languageId": "yaml", "version": 1, "text": text}
        self._send({"method": "textDocument/didOpen", "params": {"textDocument": document}})
        return uri

    def _ask(self, method: str, params: dict[str, Any]) -> Any:
        self._number += 1
        number = self._number
        self._send({"id": number, "method": method, "params": params})
        while True:
            message = self._listen()
            if message.get("id") == number and "method" not in message:
                assert "error" not in message, message["error"]
                return message["result"]

    def _send(self, message: dict[str, Any]) -> None:
        body = json.dumps({"jsonrpc": "2.0", **message}).encode()
        assert self._server.stdin is not None
        self._server.stdin.write(b"Content-Length: %d\r\n\r\n%s" % (len(body), body))
        self._server.stdin.flush()

    def _listen(self) -> dict[str, Any]:
        """The next message; what the server wants of an editor is answered with nothing."""
        assert self._server.stdout is not None
        length = 0
        while line := self._server.stdout.readline().strip():
            name, _, value = line.partition(b":")
            length = int(value) if name.lower() == b"content-length" else length
        assert length, "the language server has ended"
        message: dict[str, Any] = json.loads(self._server.stdout.read(length))
        if message.get("method") == "textDocument/publishDiagnostics":
            self._told[message["params"]["uri"]] = message["params"]["diagnostics"]
        elif "method" in message and "id" in message:
            wanted = message["params"].get("items") if message["method"] == "workspace/configuration" else None
            self._send({"id": message["id"], "result": None if wanted is None else [{} for _ in wanted]})
        return message


def _words(said: Any) -> str:
    return str(said["value"]) if isinstance(said, dict) else str(said or "")
