"""How a file writes its text: byte order mark and line ends, which nobody sees who reads it."""

from __future__ import annotations

from typing import NamedTuple

BOM = b"\xef\xbb\xbf"


class Form(NamedTuple):
    """Whether a file begins with a byte order mark, mixes line ends of several kinds, and has mostly those of two characters."""

    bom: bool = False
    mixed: bool = False
    crlf: bool = False

    @property
    def oddities(self) -> list[str]:
        """What no editor should have left there: ``bom``, ``mixed``."""
        return ["bom"] * self.bom + ["mixed"] * self.mixed


PLAIN = Form()


def form_of(data: bytes) -> Form:
    """The form of a file's bytes. Carriage returns alone, which no editor of today writes, count as a mixture."""
    bom = data.startswith(BOM)
    if b"\r" not in data:
        return Form(bom) if bom else PLAIN
    crlf = data.count(b"\r\n")
    lf, cr = data.count(b"\n") - crlf, data.count(b"\r") - crlf
    return Form(bom, bool(cr or (crlf and lf)), crlf > lf + cr)


def encoded(text: str, form: Form) -> bytes:
    """Bytes of a text, without a mark and with the line ends that the file mostly has."""
    return (text.replace("\n", "\r\n") if form.crlf else text).encode("utf-8")
