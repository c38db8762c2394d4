"""Right for the time, the place and the rank: statements with their sources, and advice drawn from them.

    places, dyes, things → statements, choice → findings → instead, advice → house_rules, cautions → counsel
    → telling

It never forbids: whoever runs the event decides. Nothing here is read from disk before the first advice.
"""

from .advice import ORGANISER_FIRST, Advice, advise, worst
from .choice import Choice, read_choice
from .dyes import DYES, PATTERNS, READABLE, chalked, contrast, tone
from .places import RANKS, REGIONS
from .statements import Statement, statements

__all__ = [
    "DYES", "ORGANISER_FIRST", "PATTERNS", "RANKS", "READABLE", "REGIONS", "Advice", "Choice",
    "Statement", "advise", "chalked", "contrast", "read_choice", "statements", "tone", "worst",
]
