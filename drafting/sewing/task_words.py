"""Every kind of task has its words."""

from collections.abc import Callable, Sequence

from . import edge_words, seam_words
from .job import Job, JobWords
from .tasks import Kind, Task
from .treatments import StitchRow
from .work import Bench


def words_for(
    task: Task, rows: Sequence[StitchRow], bench: Bench, *, let_out: bool, like: int | None = None
) -> JobWords:
    """What the step says; with `let_out` its seams are not to be trimmed, and `like` numbers an earlier
    step that finishes its seams in the same way."""
    return _WORDS[task.kind](Job(task, tuple(rows), bench, let_out, like))


_WORDS: dict[Kind, Callable[[Job], JobWords]] = {
    "strip": edge_words.strip,
    "reinforce": edge_words.reinforce,
    "eyelet": edge_words.eyelet,
    "vent": edge_words.vent,
    "neck": edge_words.edge,
    "pleat": seam_words.pleat,
    "join": seam_words.join,
    "face": seam_words.face,
    "catch": edge_words.attach,
    "baste": seam_words.baste,
    "fit": edge_words.fit,
    "let-out": seam_words.let_out,
    "fell": seam_words.fell,
    "opening": seam_words.opening,
    "edge": edge_words.edge,
    "fasten": edge_words.fasten,
    "attach": edge_words.attach,
    "tuck": edge_words.tuck,
    "hang": edge_words.hang,
    "hem": edge_words.edge,
    "lining": seam_words.lining,
    "check": edge_words.check,
}
