"""How wide a text comes out, near enough to lay it out without a browser.

The widths are those of a wide sans-serif (DejaVu Sans, measured by hand); narrower ones, which most phones have, leave
more room, never less.
"""

from __future__ import annotations

_BOLD = 1.12
_EM = {
    **dict.fromkeys("ijlI|'.,:;!", 0.34),
    **dict.fromkeys("frt()-[]/ ", 0.41),
    **dict.fromkeys("mwMW%@—", 1.0),
    **dict.fromkeys("GOQNDHUΩ", 0.79),
}
_CAPITAL, _DIGIT, _OTHER = 0.69, 0.64, 0.62


def text_width(text: str, size: float, bold: bool = False) -> float:
    """The width of a line of text, in the unit of ``size``."""
    return sum(_em(letter) for letter in text) * size * (_BOLD if bold else 1)


def _em(letter: str) -> float:
    if letter in _EM:
        return _EM[letter]
    if letter.isdigit():
        return _DIGIT
    if ord(letter) > 0x2E7F:
        return 1.0  # the scripts whose letters are as wide as they are high
    return _CAPITAL if letter.isupper() else _OTHER


def wrap(text: str, width: float, size: float, bold: bool = False) -> list[str]:
    """The text in lines no wider than ``width``, broken at spaces, and inside a word only where it alone is too wide."""
    lines: list[str] = []
    line = ""
    for word in text.split():
        longer = f"{line} {word}" if line else word
        if text_width(longer, size, bold) <= width:
            line = longer
            continue
        if line:
            lines.append(line)
        while text_width(word, size, bold) > width and len(word) > 1:
            cut = max((at for at in range(1, len(word)) if text_width(word[:at], size, bold) <= width), default=1)
            lines.append(word[:cut])
            word = word[cut:]
        line = word
    return [*lines, line] if line else lines
