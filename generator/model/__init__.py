"""Frozen dataclasses of the almanac; built only from data that passed the checks."""
