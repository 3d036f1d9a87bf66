"""line-ends."""

import pytest

TEXT = b"---\nkind: kit\n---\nWords.\n"


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"\xef\xbb\xbf" + TEXT, ["a byte order mark"]),
        (TEXT.replace(b"\n", b"\r\n", 1), ["several kinds"]),
        (TEXT.replace(b"\n", b"\r"), ["several kinds"]),
        (b"\xef\xbb\xbf" + TEXT.replace(b"\n", b"\r\n", 2), ["a byte order mark", "several kinds"]),
        (TEXT, []),
        (TEXT.replace(b"\n", b"\r\n"), []),  # all alike, as on a machine where git makes them so
    ],
)
def test_what_nobody_sees_is_told(look, data, said):
    found = look("line-ends", {"entries/kits/a.md": data})
    assert len(found) == len(said)
    assert all(any(words in one.message for one in found) for words in said)
    assert all("--fix" in one.fix for one in found)
