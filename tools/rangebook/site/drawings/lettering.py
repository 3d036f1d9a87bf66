"""How wide a text comes out, near enough to lay it out without a browser.

The widths are those of DejaVu Sans, a wide sans-serif, as Chromium measures them; the narrower ones that most phones have
leave more room, never less.
"""

from __future__ import annotations

import re
from functools import lru_cache

# Thousandths of the font size for the characters from the space to the tilde.
_WIDTHS = {
    False: (
        318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636, 636, 636, 636,
        636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295, 295, 656, 557, 863, 748, 787,
        603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838, 500, 500, 613, 635, 550, 635, 615, 352, 635,
        634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521, 392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
    ),
    True: (
        348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365, 696, 696, 696, 696, 696, 696, 696, 696,
        696, 696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830, 683, 683, 821, 837, 372, 372, 775, 637, 995, 837, 850,
        733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838, 500, 500, 675, 716, 593, 716, 678, 435, 716,
        712, 343, 343, 665, 343, 1042, 712, 687, 716, 716, 493, 595, 478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838,
    ),
}  # fmt: skip
_OTHERS = {"\u00a0": 318, "°": 500, "–": 500, "Ω": 764, "“": 518, "”": 518}
_OTHER, _WIDE, _BOLD = 840, 1000, 1.12


def text_width(text: str, size: float, bold: bool = False) -> float:
    """The width of a line of text, in the unit of ``size``."""
    return _sum(text, bold) * size / 1000


@lru_cache(maxsize=20_000)
def _sum(text: str, bold: bool) -> float:
    # A book has few words, and says them in many drawings.
    return sum(_thousandths(letter, bold) for letter in text)


def _thousandths(letter: str, bold: bool) -> float:
    code = ord(letter)
    if 32 <= code < 127:
        return _WIDTHS[bold][code - 32]
    # Scripts whose letters are as wide as they are high, and everything else as wide as its widest.
    plain = _OTHERS.get(letter, _WIDE if code > 0x2E7F or letter == "—" else _OTHER)
    return plain * (_BOLD if bold else 1)


def wrap(text: str, width: float, size: float, bold: bool = False) -> list[str]:
    """The text in lines no wider than ``width``, broken at spaces, and inside a word only where it alone is too wide.

    A no-break space (U+00A0) keeps its two words together.
    """
    lines: list[str] = []
    line = ""
    for word in filter(None, re.split(r"[ \t\r\n]+", text)):
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
