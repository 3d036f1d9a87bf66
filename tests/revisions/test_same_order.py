"""Answers come in one order, whatever seed Python hashes text with: what is listed in another order today reads as a change."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

SCRIPT = """
import json
from pathlib import Path
from tests import making
from rangebook.cli.impact import URLS
from rangebook.desk.impact.data import as_data
from rangebook.revisions.report import impact
from rangebook.revisions.states import two_states
from rangebook.schema.store import load_schemas

pins = {"1": "start_feed", "2": "start_out", "3": "backup_feed", "4": "backup_out", "5": "park_neutral", "6": "ground", "7": "supply"}
old_contacts = [{"pins": ["1", "2"], "closed": ["P", "N"]}, {"pins": ["3", "4"], "closed": ["R"]}]
a = making.part("TB-1", pins=pins, contacts=old_contacts)
def of(contacts):
    b = making.part("TB-2", pins=pins, contacts=contacts)
    family = making.family("f", [a, b], plugs={"p": making.plug(pins)}, applications=[making.application("p", "TB-1")])
    return making.texts(making.connector("c", 7), family)

schemas = load_schemas()
states = two_states(Path(), of(old_contacts).items(), of(old_contacts[:1]).items(), schemas, schemas)
report = impact(states, "base", "id", [], [])
print(json.dumps(as_data(report, URLS)))
"""


def test_a_report_is_the_same_with_every_hash_seed() -> None:
    reports = [
        subprocess.run(
            [sys.executable, "-c", SCRIPT],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            cwd=Path(__file__).parents[2],
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2", "3", "4")
    ]
    assert '"behaviour.pin_not_stated"' in reports[0]
    assert len(set(reports)) == 1
