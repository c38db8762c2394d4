"""The sections of the booklet, set as reportlab's flowables."""

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any

from ..checks.truing import Check
from ..geometry import bounds
from ..life.trim import BAND, WARP_SAID, trim_edges, trim_lines
from ..pattern import Pattern, Piece
from ..sewing import (
    Material,
    SewingPlan,
    Step,
    finished_weight,
    girth_profile,
    materials,
    span_in_words,
    step_pictures,
    time_in_words,
    together_picture,
)
from ..sewing.care import MAKING, care_for
from ..sewing.picture import Picture
from ..sewing.stitches import STITCHES
from ..words.units import Unit, format_estimate, format_length
from ..words.wording import spell
from .booklet_period import period_section
from .drawing import cut_line
from .flow import GUTTER, PICTURE_SCALE, Drawing, DrawingBox, Setter
from .ink import MM
from .page_forms import PageForm
from .piece_picture import piece_picture

if TYPE_CHECKING:
    from ..period.counsel import Counsel

PROFILE_SCALE = 1.0
PIECES_ACROSS = 3
PIECE_HEIGHT = 0.3
"""Most of the page's height that a piece's drawing takes."""

MANY_EDGES = 3

SMALL_ENLARGED = 2.5
"""How much larger than at the largest piece's scale a small piece is drawn at most."""


class Sections:
    """Writes the sections of a booklet; each method gives the flowables of one."""

    def __init__(
        self, pattern: Pattern, plan: SewingPlan, form: PageForm, setter: Setter, whose: str
    ) -> None:
        self.pattern = pattern
        self.plan = plan
        self.form = form
        self.set = setter
        self.whose = whose
        self.unit = setter.unit

    def story(
        self,
        *,
        checks: Sequence[Check],
        chalk: Sequence[Drawing | str],
        to_buy: Sequence[Material],
        advice: "Counsel | None",
    ) -> list[Any]:
        care = care_for(cloth.fibre for cloth in self.plan.cloths.values())
        return [
            *self._front(),
            *self._profile(),
            *(period_section(self.set, advice) if advice else ()),
            *self._pieces(),
            *self._chalk(chalk),
            *self._materials(to_buy),
            *self._trimmings(),
            *self._seams(),
            *self._order(),
            *self._checks(checks),
            *self._sentences("Care", care),
            *self._sentences("Mind", [s for s in self._cautions(advice) if s not in care]),
            *self._sentences("Notes", self.pattern.notes),
        ]

    def _front(self) -> list[Any]:
        made = [self.set.text(self.pattern.title, self.set.styles.title)]
        if self.whose:
            made.append(self.set.text(f"for {self.whose}", self.set.styles.whose))
        if self.form.folded:
            made.append(self.set.text(
                "Print on both sides, flipped on the short edge; fold the sheets together in the "
                "middle and sew or staple the fold.", self.set.styles.small))
        work = self.plan.work
        made.append(self.set.text(
            f"About {span_in_words(work.minutes)} of sewing in {len(self.plan.steps)} steps, "
            f"{work.stitches:,} stitches and {work.thread / 1000:.0f} m of thread; the garment weighs "
            f"about {finished_weight(self.plan):.0f} g. {self._pace()}"))
        room = self.set.width * 0.5 - GUTTER if self.form.wide else self.set.width
        finished = self.set.table(
            ("The finished garment", ""),
            [(_named(key), format_length(mm, self.unit)) for key, mm in self.pattern.finished.items()],
            (5, 4), room)
        measured = [self.set.table(
            ("Drafted for these measurements", ""),
            [self._measured(key) for key in self.pattern.measurements], (5, 4), room)]
        if self.pattern.estimated:
            measured.append(self.set.text("≈ was estimated from the other measurements: take it with "
                                          "a tape before you cut.", self.set.styles.small))
        if self.form.wide:
            return [*made, self.set.space(0.5), self.set.columns([[finished], measured], [1, 1])]
        return [*made, self.set.space(0.5), finished, self.set.space(0.8), *measured]

    def _pace(self) -> str:
        if self.plan.choices.pace.timed:
            return "The time is reckoned from the seam you timed."
        return ("The time is a guess until you time yourself: sew fifty stitches and see how long "
                "they take.")

    def _measured(self, key: str) -> tuple[str, str]:
        value = format_length(self.pattern.measurements[key], self.unit)
        if key in self.pattern.estimated:
            about = format_estimate(self.pattern.measurements[key], self.unit)
            off = format_length(self.pattern.estimated[key], self.unit)
            return _named(key), f"≈ {about}, ± {off}"
        return _named(key), value

    def _pieces(self) -> list[Any]:
        """Each piece drawn with its lengths, several to a row where the page is wide."""
        across = PIECES_ACROSS if self.form.wide else 1
        most = self.set.width / across - GUTTER
        tall = PIECE_HEIGHT * (self.form.height - 2 * self.form.margin) * MM
        largest = SMALL_ENLARGED * tall / max(map(_size, self.pattern.pieces))
        cells = [self._piece(piece, most, tall, largest) for piece in self.pattern.pieces]
        head = [self.set.heading("The pieces"), self.set.text(
            "Outer lines are cut, dotted ones sewn; lengths are those of the sewing lines. The arrow "
            "lies along the warp.", self.set.styles.small)]
        rows = [cells[i : i + across] for i in range(0, len(cells), across)]
        set_rows = [self.set.columns(row + [[]] * (across - len(row)), [1] * across) for row in rows]
        return [self.set.together([*head, set_rows[0]]), *set_rows[1:]]

    def _piece(self, piece: Piece, most: float, tall: float, largest: float) -> list[Any]:
        left, top, right, bottom = bounds(piece.cutting_line)
        size = (f"{format_length(right - left, self.unit)} × "
                f"{format_length(bottom - top, self.unit)}")
        copies = f" ({', '.join(piece.copies)})" if piece.copies else ""
        cloth = "" if piece.cloth == "main" else f", of the {piece.cloth} cloth"
        drawn = piece_picture(piece, most / PICTURE_SCALE, tall / PICTURE_SCALE, self.unit, largest)
        return [
            self.set.text(f"{piece.title}: {cut_line(piece)}{copies}{cloth}", self.set.styles.step),
            self.set.text(f"{size} with allowances: {_allowances(piece, self.unit)}",
                          self.set.styles.small),
            self.set.picture(drawn, most),
            self.set.space(0.6),
        ]

    def _chalk(self, chalk: Sequence[Drawing | str]) -> list[Any]:
        if not chalk:
            return []
        tall = (self.form.height - 2 * self.form.margin) * MM * 0.8
        found: list[Any] = [self.set.heading("The chalk plan")]
        for part in chalk:
            if isinstance(part, str):
                found.append(self.set.text(part))
            else:
                found.append(self.set.text(part.title, self.set.styles.step))
                found.append(DrawingBox(part, self.set.width, tall))
        return found

    def _materials(self, to_buy: Sequence[Material]) -> list[Any]:
        items: Iterable[Material] = materials(self.plan)
        if to_buy:
            items = (*to_buy, *(item for item in items if not item.what.startswith("cloth:")))
        rows = [(f"☐ {item.what}", item.amount, item.remark) for item in items]
        return [self.set.heading("Cloth and materials"),
                self.set.table(("what", "how much", ""), rows, (4, 2, 5))]

    def _trimmings(self) -> list[Any]:
        rows = [(row["edge"], row["length"], row["how"], row["band"], row["cord"], row["warp"])
                for row in trim_lines(trim_edges(self.pattern), BAND, self.unit)]
        if not rows:
            return []
        return [
            self.set.heading("If you trim its edges"),
            self.set.table(("edge", "embroidery", "in", f"band, {format_length(BAND, self.unit)} wide",
                            "cord", "tablet warp"), rows, (4, 3, 5, 3, 3, 3)),
            self.set.text(spell(WARP_SAID, self.unit), self.set.styles.small),
        ]

    def _seams(self) -> list[Any]:
        if not self.plan.seam_table:
            return []
        rows = []
        for line in self.plan.seam_table:
            felled = f", {line.felled}" if line.felled else ""
            extra = f", first {format_length(line.open_from_top, self.unit)} left open" \
                if line.open_from_top else ""
            treatment = line.treatment + (f", towards the {line.towards}" if line.towards else "")
            rows.append((
                line.name + extra,
                format_length(line.length, self.unit),
                format_length(line.allowance, self.unit),
                STITCHES[line.stitch].title,
                treatment,
                f"{line.step}{felled}",
            ))
        return [
            self.set.heading("The seams"),
            self.set.table(("seam", "length", "allowance", "stitch", "finish", "step"),
                           rows, (6, 3, 3, 4, 5, 2)),
            self.set.space(0.4),
            *(self.set.text(f"{stitch.title}{_number(stitch.iso_4915)}: {stitch.how}",
                            self.set.styles.small) for stitch in self._stitches()),
        ]

    def _stitches(self) -> list[Any]:
        used = {row.stitch for step in self.plan.steps for row in step.rows}
        return [stitch for name, stitch in STITCHES.items() if name in used]

    def _order(self) -> list[Any]:
        head = [
            self.set.heading("The order of work"),
            self.set.text(
                "In the pictures the plain side of the cloth is its right side, the hatched its wrong "
                "side; the thick line is sewn in that step. Fasten on and off with three small "
                "stitches on top of each other.", self.set.styles.small),
        ]
        steps = [self._step(step, picture) for step, picture in
                 zip(self.plan.steps, step_pictures(self.plan), strict=True)]
        return [*self._together(), self.set.together([*head, *steps[0]]),
                *map(self.set.together, steps[1:])]

    def _together(self) -> list[Any]:
        picture = together_picture(self.pattern)
        if picture is None:
            return []
        return [self.set.together([
            self.set.heading("How the pieces lie"),
            self.set.picture(picture, scale=PROFILE_SCALE if self.form.wide else PICTURE_SCALE),
        ])]

    def _step(self, step: Step, picture: Picture | None) -> list[Any]:
        title = self.set.text(f"☐ {step.number}. {step.title}", self.set.styles.step)
        words = [self.set.text(sentence) for sentence in step.sentences]
        facts = self._facts(step)
        if facts:
            words.append(self.set.text(facts, self.set.styles.small))
        words += [self.set.text(f"! {caution}", self.set.styles.small) for caution in
                  _once(step, self.plan)]
        if picture is None:
            return [title, *words, self.set.space(0.5)]
        if self.form.wide:
            drawn = self.set.picture(picture, self.set.width * 0.46 - GUTTER)
            body: list[Any] = [self.set.columns([[drawn], words], [0.46, 0.54])]
        else:
            body = [self.set.picture(picture), *words]
        return [title, *body, self.set.space(0.6)]

    def _facts(self, step: Step) -> str:
        if not step.work.stitches:
            return f"About {time_in_words(step.work.minutes)}."
        lines = "; ".join(f"{m.label} {format_length(m.length, self.unit)}" for m in step.measures)
        facts = (f"{step.work.stitches:,} stitches, {step.work.thread / 1000:.1f} m of thread, about "
                 f"{time_in_words(step.work.minutes)}.")
        return f"{lines}. {facts}" if len(step.measures) > 1 else facts

    def _profile(self) -> list[Any]:
        picture = girth_profile(self.pattern)
        if picture is None:
            return []
        return [self.set.together([
            self.set.heading("How it fits, from top to hem"),
            self.set.text("The hatched shape is the body, the line the garment, both laid flat; each "
                          "bar is the room there: black tight, hatched close, white easy.",
                          self.set.styles.small),
            self.set.picture(picture, scale=PROFILE_SCALE if self.form.wide else PICTURE_SCALE),
        ])]

    def _checks(self, checks: Sequence[Check]) -> list[Any]:
        if not checks:
            return []
        rows = [(("✓ " if check.passed else "✗ ") + check.name, *check.in_words(self.unit),
                 spell(check.advice, self.unit)) for check in checks]
        return [self.set.heading("Checked before cutting"),
                self.set.table(("check", "value", "limit", ""), rows, (5, 2, 3, 6))]

    def _cautions(self, advice: "Counsel | None") -> tuple[str, ...]:
        said = [caution.sentence for caution in advice.cautions] if advice else []
        return (*self.pattern.cautions, *said, *MAKING)

    def _sentences(self, title: str, sentences: Sequence[str]) -> list[Any]:
        if not sentences:
            return []
        first, *rest = self.set.bullets(list(dict.fromkeys(sentences)))
        return [self.set.together([self.set.heading(title), first]), *rest]


def _size(piece: Piece) -> float:
    left, top, right, bottom = bounds(piece.cutting_line)
    return max(right - left, bottom - top)


def _once(step: Step, plan: SewingPlan) -> list[str]:
    """The cautions that no step before has given."""
    told = {caution for other in plan.steps[: step.number - 1] for caution in other.cautions}
    return [caution for caution in step.cautions if caution not in told]


def _named(key: str) -> str:
    words = key.replace("_", " ")
    return words[:1].upper() + words[1:]


def _number(iso_4915: str) -> str:
    return f" (ISO 4915 no. {iso_4915})" if iso_4915 else ""


def _allowances(piece: Piece, unit: Unit) -> str:
    """`2.4 cm at top, hem (folded); 2.5 cm at left, right`, the most common last if it has many."""
    groups: dict[tuple[float, bool], list[str]] = {}
    for edge, allowance in piece.allowances.items():
        if allowance.width > 0:
            groups.setdefault((allowance.width, allowance.fold), []).append(edge)
    told: list[str] = []
    for (width, fold), edges in sorted(groups.items(), key=lambda group: len(group[1])):
        where = f"at {', '.join(edges)}"
        if len(edges) > MANY_EDGES and len(told) == len(groups) - 1:
            where = "at all other edges" if told else "all round"
        told.append(f"{format_length(width, unit)} {where}{' (folded)' if fold else ''}")
    return "; ".join(told) or "none"

