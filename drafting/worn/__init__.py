"""Worn: the wearer's figure, and a garment sewn together and hung on it, before it is cut."""
