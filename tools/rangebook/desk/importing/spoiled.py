"""What a spreadsheet program made of what was typed into a cell, and what stands in one cell and should stand in two."""

from __future__ import annotations

import re

from rangebook.reading.sheet import Held
from rangebook.schema.fields import Field
from rangebook.schema.patterns import matches

_MANGLED = re.compile(r"[0-9](?:[.,][0-9]+)?E[+-]?[0-9]+\Z", re.IGNORECASE)

# English is what Calc and Excel show in most countries, the rest what Excel shows in the others. From memory.
_WORDS = (  # noqa: SIM905 - a list to read
    "REF! VALUE! NAME? DIV/0! NUM! NULL! SPILL! CALC! FIELD! BLOCKED! BUSY! CONNECT! UNKNOWN! GETTING_DATA N/A "
    "BEZUG! WERT! ZAHL! NV ÜBERLAUF! KALK! VALEUR! NOM? NOMBRE! NUL! ¡REF! ¡VALOR! ¿NOMBRE? ¡NUM! ¡NULO! ¡DIV/0! N/D RIF! VALORE! NOME? "
    "NULLO! VALOR! NÚM! NULO! VERW! WAARDE! NAAM? GETAL! N/B LEEG! DEEL/0! REFERENS! VÄRDEFEL! NAMN? OGILTIGT! SAKNAS! SKÄRNING! "
    "DIVISION/0! ADR! ARG! NAZWA? LICZBA! ZERO! DZIEL/0! REFERENCE! VÆRDI! NAVN? I/T VERDI! VIITTAUS! ARVO! NIMI? PUUTTUU! LUKU! TYHJÄ! "
    "JAKO/0! ODKAZ! HODNOTA! NÁZEV? ČÍSLO! NENÍ_K_DISPOZICI HIV! ÉRTÉK! NÉV? HIÁNYZIK SZÁM! ZÉRÓOSZTÓ! BAŞV! DEĞER! AD? YOK SAYI! BOŞ! "
    "SAYI/0! ССЫЛКА! ЗНАЧ! ИМЯ? Н/Д ЧИСЛО! ПУСТО! ДЕЛ/0!"  # noqa: RUF001 - Cyrillic is meant
).split()
_KNOWN = "|".join(re.escape(one) for one in sorted(_WORDS, key=len, reverse=True))
_ERROR_WORD = re.compile(
    rf"#(?:{_KNOWN})(?!\w)"
    r"|\b(?:Err|Fehler|Erreur|Erro|Errore|Error|Fout|Fel|Feil|Fejl|Virhe|Błąd|Chyba|Hiba|Hata|Ошибка)\s?:\s?5[0-9]{2}\b"
    r"|\A#[¡¿]?[^\W\d_][^\W\d_/.]*(?:/0)?[!?]\Z"  # one of another language: it stands alone in its cell
    r"|\A#{3,}\Z",  # a column that was too narrow for its number
    re.IGNORECASE,
)

_BETWEEN = re.compile(r"\s*[,;|\n]\s*|\s+(?:/|&|\+|or|and|alt\.?|old:?|new:?|ex)\s+|\s*[()]\s*", re.IGNORECASE)
_APART = re.compile(r"\s*[;|\n→]\s*|\s*[=-]>\s*")
"""What stands in no part number."""
_FEWEST = 4
"""So many letters and figures has what is taken for a number of its own."""

_ASK = "if that is what is meant, type it as text (format the column as text first)"


def error_word(cell: str) -> str | None:
    """The spreadsheet program's word for an error in a cell, such as ``#REF!`` or ``#BEZUG!``."""
    found = _ERROR_WORD.search(cell)
    return found.group() if found else None


def numbers_in(cell: str) -> list[str]:
    """The part numbers that a cell holds: one, unless a sign or word parts several, or several of one shape stand side by side."""
    pieces = [one for one in _APART.split(cell) if one]
    if len(pieces) > 1 and all(_is_number(one, 2) for one in pieces):
        return pieces
    pieces = [one for one in _BETWEEN.split(cell) if one]
    if len(pieces) > 1 and all(_is_number(one) for one in pieces):
        return pieces
    if len(pieces) > 1 and _are_alike(pieces, 2):
        return pieces
    for parts in (cell.split(), re.split(r"[/+&,]", cell)):
        if len(parts) > 1 and _are_alike(parts, 3):
            return parts
        if len(parts) > 1 and len({_shape(one) for one in parts}) == 1 and all(_is_number(one, _FEWEST + 1) for one in parts):
            return parts
    return [cell]


def _are_alike(parts: list[str], fewest: int) -> bool:
    """Whether all are of one shape, with letters and figures both, as numbers of one maker are."""
    shaped = len({_shape(one) for one in parts}) == 1 and all(any(map(str.isalpha, one)) for one in parts)
    return shaped and all(_is_number(one, fewest) for one in parts)


def _is_number(text: str, fewest: int = _FEWEST) -> bool:
    return sum(map(str.isalnum, text)) >= fewest and any(map(str.isdigit, text))


def _shape(text: str) -> str:
    return re.sub(r"[0-9]", "9", re.sub(r"[A-Za-z]", "A", text))


def why_not(text: str, held: Held | None, name: str, field: Field | None, whole_numbers: bool) -> str | None:
    """Why what a cell holds cannot be taken for a field, in words that say what it holds and what to do; ``None`` where it can.

    ``name`` is that of the column, and ``whole_numbers`` whether the mapping says that its cells may be numbers.
    """
    kind = None if field is None else "number" if field.names_a_part else field.node.get("x-cell")
    if held is None:
        if kind == "number" and _MANGLED.match(text):
            return f"{text!r} is a number as a spreadsheet program spoils it: format the column as text and type it anew"
        return None
    as_shown = f" (shown as {held.shown})" if held.shown not in ("", text) else ""
    if held.kind == "formula":
        return "the cell holds a formula without its result: open the file in a spreadsheet program and save it there"
    if held.kind == "number":
        return _why_no_number(text, as_shown, name, field, whole_numbers)
    if held.kind == "date" and kind == "date" and field is not None and matches(field.node.get("pattern", ""), text):
        return None
    if held.kind in ("date", "time"):
        return (
            f"the cell holds the {held.kind} {text}{as_shown}; a spreadsheet program makes one of what looks like it, such as 12-05: {_ASK}"
        )
    if held.kind == "truth" and kind == "number":
        return f"the cell holds {text}, which is yes or no and no part number: {_ASK}"
    return None


def _why_no_number(text: str, as_shown: str, name: str, field: Field | None, whole_numbers: bool) -> str | None:
    """A figure is a figure; of what only looks like one a spreadsheet program drops the zeros in front and behind."""
    node = (field.inner if field.several else field.node) if field else {}
    if node.get("type") in ("number", "integer"):
        return None
    holds = f"the cell holds the number {text}{as_shown} and no text"
    if not text.lstrip("-").isdigit():
        return f"{holds}; a spreadsheet program makes 1.2 of 1.200: {_ASK}"
    if field is None or not field.names_a_part:
        return None
    if len(text.lstrip("-")) > 15:
        return f"{holds}; a spreadsheet program keeps 15 figures and makes zeros of the rest: {_ASK}"
    if whole_numbers:
        return None
    return (
        f"{holds}; a spreadsheet program makes 123 of 0123. Look at the part: if {text} is its number, say "
        f"`whole_numbers: [{name}]` in the mapping, else type it as text (format the column as text first)"
    )
