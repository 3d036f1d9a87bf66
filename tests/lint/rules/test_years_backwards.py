"""years-backwards. The bounds of a model year: 40 CFR 85.2303 and 85.2304."""

import pytest

VEHICLES = "    kind: switch\n    applications: [{vehicle: Corran Delver 2.4, %s}]\n"


@pytest.mark.parametrize(
    ("facts", "at"),
    [
        ("years: 2008-2003", "2008-2003"),
        ("years: 2003-2008, from: 2009-01", "2009-01"),
        ("years: 2003-2008, from: 2001-12", "2001-12"),
        ("years: 2003-2008, to: 2009-01", "2009-01"),
        # Of the model year 2004 nothing is built before 2003.
        ("years: 2003-2008, to: 2002-12", "2002-12"),
        ("years: 2003, to: 2001-12", "2001-12"),
        ("years: 2009-, from: 2007-12", "2007-12"),
        ("years: 2009-, to: 2008-12", "2008-12"),
        ("from: 2005-09, to: 2005-08", "2005-08"),
        ("from: 2006, to: 2005-12", "2005-12"),
        ("from: 2006-01, to: 2005", "2005"),
    ],
)
def test_found_where_it_is_wrong(look, facts, at):
    (found,) = look("years-backwards", VEHICLES % facts)
    assert found.at == f"{at}}}]" or found.at.startswith(f"{at},")
    assert "Corran Delver 2.4" in found.message


@pytest.mark.parametrize(
    "facts",
    [
        "years: 2003-2003",
        "years: 2003",
        "years: 2009-",
        "years: 2003-2008, from: 2002-01",  # the model year 2003 may begin on 2 January 2002
        "years: 2003-2008, from: 2003-09",
        "years: 2003-2008, to: 2008-12",
        "years: 2003-2008, to: 2003-01",
        "years: 2003, to: 2002-12",
        "years: 2009-, from: 2031-01",
        "from: 2005-09, to: 2005-09",
        "from: 2005, to: 2005-01",
        "from: 2005-12, to: 2005",
    ],
)
def test_let_be(look, facts):
    assert look("years-backwards", VEHICLES % facts) == []


def test_months_are_not_measured_against_years_that_are_wrong_themselves(look):
    (found,) = look("years-backwards", VEHICLES % "years: 2008-2003, from: 2005-09")
    assert found.at.startswith("2008-2003")


def test_the_years_the_right_way_round_are_offered(look):
    (found,) = look("years-backwards", VEHICLES % "years: 2008-2003")
    assert "2003-2008" in found.fix
