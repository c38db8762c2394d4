"""The page's sections: what they answer, that it is asked for, and that they are made whole."""

import ast
import importlib
import re
from collections import Counter
from types import SimpleNamespace

import pytest

from news import News
from starting import needed_first
from table import KINDS, Answers, answer_to
from tests.unit import APP

SITE = APP.parent
MAIN = (APP / "main.py").read_text(encoding="utf-8")
LATER = (APP / "later.py").read_text(encoding="utf-8")
BROWSERS_OWN = ("document", "window")
PAGES = [SITE / "index.html", *sorted((SITE / "sections").glob("*.html"))]
SCRIPTS = sorted(APP.glob("*.py"))
BUILT = SITE / "prepare" / "choices.py"  # writes fields into the page, as form.py does
DRAWN = SITE.parent / "drafting" / "sheets" / "lay_picture.py"  # a picture whose pieces are tapped


def sections():
    """Everything that main.py puts into the table, or later.py: modules as they are, classes without having
    been made."""
    (first,) = (
        node.args[0].elts for node in ast.walk(ast.parse(MAIN))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Answers"
    )
    (later,) = (
        node.value.elts for node in ast.walk(ast.parse(LATER))
        if isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "self.sections"
    )
    return [section(item, MAIN) for item in first] + [section(item, LATER) for item in later]


def section(node, source):
    """What stands at one place of the table, as far as it can be asked what it answers."""
    known = {"session.undo": "undo.Undo", "session.kits": "kits.Kits", "session.worker": "running.Running"}
    statements = list(ast.walk(ast.parse(source)))
    made = {
        ast.unparse(target): statement.value.func.id
        for statement in statements if isinstance(statement, ast.Assign)
        for target in statement.targets
        if isinstance(statement.value, ast.Call) and isinstance(statement.value.func, ast.Name)
    }
    imported = {
        alias.name: statement.module
        for statement in statements if isinstance(statement, ast.ImportFrom)
        for alias in statement.names
    }
    name = ast.unparse(node.func if isinstance(node, ast.Call) else node)
    name = made.get(name, name)
    if name in known:
        module, _, name = known[name].partition(".")
    elif name in imported:
        module = imported[name]
    else:
        return importlib.import_module(name)
    kind = getattr(importlib.import_module(module), name)
    return kind.__new__(kind)


def given(which):
    """What each section gives of one kind, in one list: names, or (selector, react)."""
    return [one for each in SECTIONS for one in getattr(each, which, dict)()]


SECTIONS = sections()
ANSWERS = dict.fromkeys(given("answers"), "answer")
SELECTORS = {kind: [selector for selector, _ in given("on_" + kind)] for kind in KINDS}


def texts_of(source):
    """Every text in a script, formatted ones up to what is put in."""
    return [
        node.value for node in ast.walk(ast.parse(source))
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    ]


def in_html(text):
    """What is asked for in HTML or in a piece of it; "share:%s" is "share:", and "%s" alone nothing."""
    found = [asked.partition("%")[0] for asked in re.findall(r'data-do="([^"]*)"', text)]
    return {asked for asked in found if asked}


def in_notices(source):
    """What the buttons of notices ask for: the first of each pair in the list of them."""
    found = set()
    for function in ast.walk(ast.parse(source)):
        if not isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        calls = [node.func for node in ast.walk(function) if isinstance(node, ast.Call)]
        if not any(getattr(call, "attr", getattr(call, "id", "")) == "notice" for call in calls):
            continue
        lists = [node.elts for node in ast.walk(function) if isinstance(node, ast.List)]
        found |= {pair.elts[0].value for pairs in lists for pair in pairs if isinstance(pair, ast.Tuple)}
    return found


def asked_in(pages, scripts):
    """{what is asked for: where}."""
    found = {}
    for path in pages:
        found |= dict.fromkeys(in_html(path.read_text(encoding="utf-8")), path.name)
    for path in scripts:
        source = path.read_text(encoding="utf-8")
        asked = in_notices(source).union(*map(in_html, texts_of(source)))
        found |= dict.fromkeys(asked, path.name)
    return found


ASKED = asked_in(PAGES, SCRIPTS)


def unanswered(asked, answers):
    found = []
    for one in asked:
        try:
            answer_to(answers, one)
        except KeyError:
            found.append(one)
    return found


def unasked(answers, asked):
    """Answers that nothing on the page asks for."""
    used = [answer_to({name: name for name in answers}, one)[0] for one in asked]
    return sorted(set(answers) - set(used))


def test_whatever_the_page_asks_for_is_answered():
    assert len(ASKED) > 50
    assert unanswered(ASKED, ANSWERS) == []


def test_whatever_is_answered_is_asked_for():
    assert unasked(ANSWERS, ASKED) == []


def test_no_two_sections_answer_the_same():
    assert [name for name, count in Counter(given("answers")).items() if count > 1] == []


def test_made_up_ones_are_found_out(tmp_path):
    page, script = tmp_path / "made_up.html", tmp_path / "made_up.py"
    page.write_text('<button data-do="embroider">Embroider it</button>')
    script.write_text(
        "def offer(number):\n"
        '    telling.notice("bead", ["Beads?"], [("bead:take", "Take them")])\n'
        "    return '<button data-do=\"spin:%d\">Spin</button>' % number\n"
    )
    asked = asked_in([page], [script])
    assert asked == {"embroider": "made_up.html", "bead:take": "made_up.py", "spin:": "made_up.py"}
    assert unanswered(asked, ANSWERS) == list(asked)
    assert unasked({**ANSWERS, "spin": "answer", "share:nobody": "answer"}, ASKED) == ["share:nobody", "spin"]


@pytest.mark.parametrize("asked, answer, which", [
    ("undo", "undo", ""), ("take:lay.svg", "take", "lay.svg"), ("share:link", "share:link", ""),
    ("share:kit-said", "share", "kit-said"), ("kit:use:k1:2", "kit:use", "k1:2"), ("word:", "word", ""),
])
def test_the_closer_answer_is_given_with_what_is_left(asked, answer, which):
    answers = {name: name for name in ("undo", "take", "share", "share:link", "kit:use", "word")}
    assert answer_to(answers, asked) == (answer, which)


# --- Fields --------------------------------------------------------------------------------------


ON_THE_PAGE = "".join(path.read_text(encoding="utf-8") for path in [*PAGES, *SCRIPTS, BUILT, DRAWN])


def is_there(selector, text):
    """Whether something of each id and attribute that a selector names stands in the page."""
    wanted = re.sub(r":not\([^)]*\)", "", selector)
    ids, attributes = re.findall(r"#([\w-]+)", wanted), re.findall(r"\[([\w-]+)(?:=\"([\w-]+)\")?\]", wanted)
    return all(f'id="{name}"' in text for name in ids) and all(
        f'{name}="{value}"' in text if value else re.search(rf"[ <]{name}[ =>]", text)
        for name, value in attributes
    )


@pytest.mark.parametrize("selector", sorted({s for kind in KINDS for s in SELECTORS[kind]}))
def test_what_reacts_stands_on_the_page(selector):
    assert is_there(selector, ON_THE_PAGE)


def test_a_field_that_is_not_there_is_missed():
    assert not is_there("#bead-list", ON_THE_PAGE)
    assert not is_there("[data-beads]", ON_THE_PAGE)
    assert not is_there('[data-in="beads"]', ON_THE_PAGE)


# --- Made whole ----------------------------------------------------------------------------------


def late(source):
    """Assignments to another object's attribute: `x.y = …`, but for what is the browser's own."""
    found = []
    for node in ast.walk(ast.parse(source)):
        targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
        for target in targets:
            for part in target.elts if isinstance(target, ast.Tuple) else [target]:
                if isinstance(part, ast.Attribute) and first_name(part) not in BROWSERS_OWN:
                    found.append(ast.unparse(part))
    return found


def first_name(node):
    while isinstance(node, ast.Attribute | ast.Subscript):
        node = node.value
    return getattr(node, "id", "")


def test_no_section_is_given_anything_after_it_was_made():
    assert late(MAIN) == []
    assert [given for given in late(LATER) if not given.startswith("self.")] == []


@pytest.mark.parametrize("bad", [
    "page.redraw = Redraw()", "page.laid = lambda: cutting.laid", "page.kits.files = other = 3",
    "def begin():\n    page.drawn, x = drawn, 1", "page.count += 1", "page.count: int = 1",
])
def test_what_is_given_later_is_found_out(bad):
    assert late(MAIN + "\n" + bad)


def imports(source):
    """The modules that a script of the page imports, wherever it does."""
    found = set()
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            found.add(node.module)
    return found


def circle(of):
    """The modules that are left when those that import none of the others are taken away, again and again."""
    left = {name: imported & of.keys() for name, imported in of.items()}
    while free := {name for name, imported in left.items() if not imported}:
        left = {name: imported - free for name, imported in left.items() if name not in free}
    return sorted(left)


def test_the_page_s_imports_have_no_circle():
    of = {path.stem: imports(path.read_text(encoding="utf-8")) for path in SCRIPTS}
    assert circle(of) == []
    assert circle({**of, "safe": {"form"}}) != []


# --- What comes later ----------------------------------------------------------------------------


class Box:
    """An element, as far as the table looks at one."""

    def __init__(self, do="", value=""):
        self.do, self.value = do, value

    def closest(self, _):
        return self if self.do else None

    def getAttribute(self, _):
        return self.do

    def matches(self, selector):
        return selector == "box"


class Part:
    """A section that notes what it is told."""

    def __init__(self, answers):
        self.told, self._answers = [], answers

    def answers(self):
        return {name: lambda which, _, name=name: self.told.append((name, which)) for name in self._answers}

    def on_input(self):
        return (("box", lambda box: self.told.append(("typed", box.value))),)


def happening(kind, element):
    return SimpleNamespace(type=kind, target=element, preventDefault=lambda: None)


def test_what_is_done_before_a_section_is_here_reaches_it_once_it_is():
    first, later = Part(["undo"]), Part(["take"])
    table = Answers([first])
    table.tapped(happening("click", Box("undo")))
    table.tapped(happening("click", Box("take:lay.svg")))
    table.happened(happening("input", Box(value="980")))
    assert first.told == [("undo", ""), ("typed", "980")]
    kept = Box(value="as it was kept")
    table.take_in([later], [(kept, "as it was typed")])
    assert later.told == [("typed", "as it was typed"), ("take", "lay.svg"), ("typed", "980")]
    assert kept.value == "as it was typed"
    assert first.told == [("undo", ""), ("typed", "980")], "and is told nobody twice"
    with pytest.raises(KeyError):
        table.tapped(happening("click", Box("embroider")))


def test_who_listens_later_hears_what_was_told_last():
    news, heard = News(), []
    news.hear("kit", lambda: heard.append("first"))
    news.tell("kit")
    news.tell("drawn", "a dress")
    news.tell("drawn", "a hood")
    before = news.counted()
    news.hear("kit", lambda: heard.append("second"))
    news.hear("drawn", heard.append)
    news.hear("link", heard.append)
    news.repeat(before)
    assert heard == ["first", "second", "a hood"]


def test_what_the_page_imports_at_once_comes_first(tmp_path):
    (tmp_path / "main.py").write_text("import fields\n\ndef rest():\n    from later import Later\n")
    (tmp_path / "fields.py").write_text("def old():\n    import before\n")
    (tmp_path / "later.py").write_text("import fields, sewing\n")
    for name in ("before", "sewing"):
        (tmp_path / f"{name}.py").write_text("")
    assert needed_first(tmp_path) == {"main", "fields", "before"}
