"""The checks a cutter makes before cutting, and how long a child's garment will fit."""
