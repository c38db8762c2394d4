"""A Firefox for the tests, driven over WebDriver BiDi by firefox.mjs."""

import base64
import json
import subprocess
from pathlib import Path

from other_engine import Engine

from fetching import node_modules
from machine import tool


class Firefox(Engine):
    def __init__(self, path: str) -> None:
        folder = node_modules("puppeteer-core", "debug", "ms")
        program = Path(__file__).with_name("firefox.mjs")
        command = [tool("node"), "--experimental-websocket", program, folder / "puppeteer-core", path]
        self._node = subprocess.Popen(
            list(map(str, command)), stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        assert self._answer() == "ready"

    def _answer(self):
        line = self._node.stdout.readline()
        assert line, "firefox.mjs ended"
        answer = json.loads(line)
        assert "error" not in answer, answer
        return answer["ok"]

    def _ask(self, do, **more):
        self._node.stdin.write(json.dumps({"do": do, **more}) + "\n")
        self._node.stdin.flush()
        return self._answer()

    def version(self):
        return self._ask("version")

    def open(self, url):
        self._ask("open", url=url)

    def run(self, script):
        return self._ask("run", script=script)

    def picture(self):
        return base64.b64decode(self._ask("picture"))

    def errors(self):
        return self._ask("errors")

    def close(self):
        self._node.stdin.close()
        self._node.wait(60)
