"""trailing-space. Which spaces say something is tested in tests/lint/fixing."""

from tests.lint.marking import found_at_marks

ENTRY = """
    # entries/kits/oval-9-renewal.md
    ---
    kind: kit{front}
    id: oval-9-renewal
    number: TW-7706
    title: Plug renewal
    from: oval-9
    to: oval-13
    moves: {{1: 1, 2: 2, 3: 3, 4: 4, 5: 5, 6: 6}}
    seals: [6]
    sources: [{{kind: seen}}]
    ---
    Crimp,{prose}
    do not solder.
"""


def test_each_line_is_told_at_its_end():
    found_at_marks("trailing-space", ENTRY.format(front="»  ", prose="» "))


def test_a_line_break_in_the_prose_may_stand():
    found_at_marks("trailing-space", ENTRY.format(front="", prose="  "))


def test_the_end_of_the_file(look):
    text = "---\nkind: kit\n---\nWords."
    for end, at in (("", ""), ("\n\n", ""), (" \n", " "), ("\n \n", "")):
        (found,) = look("trailing-space", {"entries/kits/a.md": text + end})
        assert found.at == at
    assert look("trailing-space", {"entries/kits/a.md": text + "\n"}) == []
    assert look("trailing-space", {"entries/kits/a.md": ""}) == []
