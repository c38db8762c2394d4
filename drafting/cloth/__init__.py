"""Cloth: what it is, how a piece wider than it is joined, how the lay is chalked."""
