"""Shows drawings in a browser, as a page does."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from rangebook.site.drawings import STYLESHEET

PHONE = 360
"""The width in CSS pixels for which drawings are laid out."""

MEASURE = """() => [...document.querySelectorAll('.shown > svg')].map(svg => {
  const frame = svg.getBoundingClientRect();
  const box = one => {
    const r = one.getBoundingClientRect();
    return [r.left - frame.left, r.top - frame.top, r.right - frame.left, r.bottom - frame.top];
  };
  return {
    size: [frame.width, frame.height],
    texts: [...svg.querySelectorAll('text')].map(text => ({
      text: text.textContent, box: box(text), px: parseFloat(getComputedStyle(text).fontSize) * text.getScreenCTM().a,
      place: text.closest('[data-cavity]') ? box(text.closest('[data-cavity]').querySelector('.rb-box')) : null,
    })),
    touch: [...svg.querySelectorAll('.rb-touch')].map(box),
    out: [...svg.querySelectorAll('[data-cavity] > .rb-box')].filter(rect => {
      const x = rect.x.baseVal.value, y = rect.y.baseVal.value, w = rect.width.baseVal.value, h = rect.height.baseVal.value;
      // the corners are rounded: the point on the diagonal of each
      const inset = rect.rx.baseVal.value * (1 - Math.SQRT1_2);
      const walls = [...svg.querySelectorAll('.rb-wall, .rb-rim')];
      return [inset, w - inset].some(dx => [inset, h - inset].some(dy => {
        const point = svg.createSVGPoint(); point.x = x + dx; point.y = y + dy;
        return walls.some(wall => !wall.isPointInFill(point));
      }));
    }).length,
  };
})"""


@pytest.fixture(scope="session")
def page(browser: Browser) -> Iterator[Page]:
    """One page of the browser that the site's tests share, as wide as a phone."""
    made = browser.new_page(viewport={"width": PHONE, "height": 800})
    yield made
    made.close()


@pytest.fixture
def show(page: Page) -> Callable[..., list[dict[str, Any]]]:
    """Puts drawings on a page with their style sheet and measures them: text boxes, font sizes, places to tap."""

    def show_them(*svgs: str, head: str = "", width: int = PHONE) -> list[dict[str, Any]]:
        page.set_viewport_size({"width": width, "height": 800})
        shown = "".join(f'<div class="shown rb-scroll">{svg}</div>' for svg in svgs)
        styles = f"<style>{STYLESHEET.read_text('utf-8')} body {{ margin: 0 }}</style>"
        page.set_content(f"<!doctype html><html {head}><head>{styles}</head><body>{shown}</body></html>")
        measured = page.evaluate(MEASURE)
        assert len(measured) == len(svgs)
        return measured

    return show_them
