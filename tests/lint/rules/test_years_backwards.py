"""years-backwards. The bounds of a model year: 40 CFR 85.2303 and 85.2304."""

import pytest

VEHICLES = "    kind: switch\n    applications: [{vehicle: Corran Delver 2.4, %s}]\n"


@pytest.mark.parametrize(
    ("facts", "at"),
    [
        ("years: 2012-2007", "2012-2007"),
        ("years: 2007-2012, from: 2013-01", "2013-01"),
        ("years: 2007-2012, from: 2005-12", "2005-12"),
        ("years: 2007-2012, to: 2013-01", "2013-01"),
        # Of the model year 2008 nothing is built before 2007.
        ("years: 2007-2012, to: 2006-12", "2006-12"),
        ("years: 2007, to: 2005-12", "2005-12"),
        ("years: 2013-, from: 2011-12", "2011-12"),
        ("years: 2013-, to: 2012-12", "2012-12"),
        ("from: 2009-09, to: 2009-08", "2009-08"),
        ("from: 2010, to: 2009-12", "2009-12"),
        ("from: 2010-01, to: 2009", "2009"),
    ],
)
def test_found_where_it_is_wrong(look, facts, at):
    (found,) = look("years-backwards", VEHICLES % facts)
    assert found.at == f"{at}}}]" or found.at.startswith(f"{at},")
    assert "Corran Delver 2.4" in found.message


@pytest.mark.parametrize(
    "facts",
    [
        "years: 2007-2007",
        "years: 2007",
        "years: 2013-",
        "years: 2007-2012, from: 2006-01",  # the model year 2007 may begin on 2 January 2006
        "years: 2007-2012, from: 2007-09",
        "years: 2007-2012, to: 2012-12",
        "years: 2007-2012, to: 2007-01",
        "years: 2007, to: 2006-12",
        "years: 2013-, from: 2031-01",
        "from: 2009-09, to: 2009-09",
        "from: 2009, to: 2009-01",
        "from: 2009-12, to: 2009",
    ],
)
def test_let_be(look, facts):
    assert look("years-backwards", VEHICLES % facts) == []


def test_months_are_not_measured_against_years_that_are_wrong_themselves(look):
    (found,) = look("years-backwards", VEHICLES % "years: 2012-2007, from: 2009-09")
    assert found.at.startswith("2012-2007")


def test_the_years_the_right_way_round_are_offered(look):
    (found,) = look("years-backwards", VEHICLES % "years: 2012-2007")
    assert "2007-2012" in found.fix
