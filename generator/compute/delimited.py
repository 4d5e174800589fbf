"""One line of a table whose fields a character separates, with the column where each field begins."""

from __future__ import annotations

from collections.abc import Iterator


def fields_of(text: str, separator: str) -> Iterator[tuple[str, int]]:
    """Yield (content, column from 1) of each field; quotes may hold the separator, a doubled quote is a quote."""
    place = 0
    while True:
        start = place
        if text[place : place + 1] == '"':
            content, place = _quoted(text, place + 1)
            rest = text.find(separator, place)
            end = len(text) if rest < 0 else rest
            content += text[place:end]
        else:
            rest = text.find(separator, place)
            end = len(text) if rest < 0 else rest
            content = text[start:end]
        yield content, start + 1
        if end == len(text):
            return
        place = end + 1


def _quoted(text: str, place: int) -> tuple[str, int]:
    content = ""
    while place < len(text):
        end = text.find('"', place)
        if end < 0:
            return content + text[place:], len(text)
        content += text[place:end]
        if text[end + 1 : end + 2] != '"':
            return content, end + 1
        content, place = content + '"', end + 2
    return content, place
