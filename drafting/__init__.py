"""Early-medieval clothing for living history, drafted from a few tape measurements.

Each room is a folder, and imports run one way along a line of them: DEVELOPERS.md shows it, and
tests/unit/test_architecture.py holds it.
"""

__version__ = "0.1.0"
