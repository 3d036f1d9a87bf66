"""The characters that nobody sees, which a value must not have."""

from __future__ import annotations

import re

UNSEEN = re.compile(
    r"[\x00-\x1f\x7f-\x9f\xad\u034f\u0600-\u0605\u061c\u06dd\u070f\u0890\u0891\u08e2\u115f\u1160\u17b4\u17b5\u180b-\u180f\u200b-\u200f"
    r"\u2028-\u202e\u2060-\u206f\u2800\u3164\ufe00-\ufe0f\ufeff\uffa0\ufff0-\ufffb\U000110bd\U000110cd\U00013430-\U0001343f"
    r"\U0001bca0-\U0001bca3\U0001d173-\U0001d17a\U000e0000-\U000e0fff]"
)
"""What cannot be seen in a value, or moves about what can: control and format characters, line and paragraph separators (Unicode's
categories Cc, Cf, Zl and Zp), what is drawn as nothing (its property Default_Ignorable_Code_Point), and the empty pattern of Braille."""


def has_unseen(text: str) -> bool:
    """Whether there is any of them in a text, line ends let be. Most texts are plain ASCII, where Python tells that at once."""
    lines = text.replace("\n", "")
    return not lines.isprintable() if lines.isascii() else UNSEEN.search(lines) is not None
