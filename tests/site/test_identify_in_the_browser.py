"""The page asks once more to be sure, and says what does not agree."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from playwright.sync_api import expect
from tests.site.conftest import Tab

from identify import true_answer, truths
from rangebook.desk.identify.answers import written
from rangebook.desk.identify.standing import standing
from rangebook.desk.identify.table import make_table
from rangebook.fitting.fitter import Fitter


def test_one_more_to_be_sure_and_what_does_not_agree(tab: Tab, site_url: str, fitter: Fitter) -> None:
    table = make_table(fitter)
    for truth in truths(table):
        state: dict[str, Any] = {}
        while (now := standing(table, state)).question and not now.confirms:
            state[now.question.id] = true_answer(table, truth, now.question)
        if now.question and now.question.kind == "choice" and len(now.numbers) == 1:
            right = true_answer(table, truth, now.question)
            wrong = [
                value
                for value, _ in now.question.answers
                if value != right and standing(table, {**state, now.question.id: value}).doubts[1:]
            ]
            if right and wrong:
                break
    address = f"{site_url}identify/?{urlencode({name: written(value) for name, value in state.items()})}"
    tab.page.goto(address)
    expect(tab.page.locator(f"[data-confirm='{now.question.id}']")).to_contain_text("One more to be sure")
    tab.page.locator(f".ask [data-answer='{wrong[0]}']").click()
    expect(tab.page.locator("[data-disagrees]")).to_contain_text("does not agree with what you said before")
    doubts = standing(table, {**state, now.question.id: wrong[0]}).doubts
    expect(tab.page.locator("[data-nothing] .row")).to_have_count(len(doubts)), "each answer that would have to be wrong can be taken back"
    tab.page.goto(address)
    tab.page.locator(f".ask [data-answer='{right}']").click()
    expect(tab.page.locator(f"[data-result='{truth.row.number}']")).to_be_visible()
    assert not tab.seen.complaints
