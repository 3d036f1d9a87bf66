"""unknown-mount."""

PART = "    kind: switch\n    parts: [{number: TB-20417, sources: [{kind: seen}], %s}]\n"


def test_it_is_found_at_the_name(look):
    (found,) = look("unknown-mount", PART % "mount: tall-boss")
    assert found.at.startswith("tall-boss") and "short-boss" in found.message


def test_a_family_without_mounts_has_none(look):
    (found,) = look("unknown-mount", PART % "mount: short-boss" + "    mounts: {}\n")
    assert "none" in found.message and "describe short-boss" in found.fix


def test_a_part_whose_mount_is_not_stated_is_let_be(look):
    assert look("unknown-mount", PART % "status: current") == []
