"""Every kind of task has its words."""

from collections.abc import Callable, Sequence

from . import edge_words, seam_words
from .job import Job, JobWords
from .tasks import Kind, Task
from .treatments import StitchRow
from .work import Bench


def words_for(task: Task, rows: Sequence[StitchRow], bench: Bench, *, let_out: bool) -> JobWords:
    """What the step says; with `let_out` its seams are not to be trimmed."""
    return _WORDS[task.kind](Job(task, tuple(rows), bench, let_out))


_WORDS: dict[Kind, Callable[[Job], JobWords]] = {
    "strip": edge_words.strip,
    "reinforce": edge_words.reinforce,
    "neck": edge_words.edge,
    "pleat": seam_words.pleat,
    "join": seam_words.join,
    "face": seam_words.face,
    "catch": edge_words.attach,
    "fit": edge_words.fit,
    "let-out": seam_words.let_out,
    "fell": seam_words.fell,
    "opening": seam_words.opening,
    "vent": edge_words.vent,
    "edge": edge_words.edge,
    "attach": edge_words.attach,
    "hang": edge_words.hang,
    "tuck": edge_words.tuck,
    "hem": edge_words.edge,
    "lining": seam_words.lining,
    "check": edge_words.check,
}
