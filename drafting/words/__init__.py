"""Lengths, sentences, problems and texts from outside: what every other room speaks with."""
