"""Two processes on one case book: a shared link works at both, and outlives the one it was made at."""

from contextlib import closing

from pose_fit.app.texts.site_texts import SITE

from .branch_proxy import BranchProxy
from .browser import visitor
from .served_app import served_app


def test_a_link_outlives_the_process_it_was_made_at_and_lost_entries_are_said(chromium, tmp_path):
    places = {"POSE_FIT_CASE_BOOK": str(tmp_path / "book.db"), "POSE_FIT_WORKERS": "1"}
    with (
        served_app(places) as one,
        served_app(places) as other,
        closing(BranchProxy([one.port, other.port])) as proxy,
        visitor(chromium, proxy.url) as visit,
        closing(chromium.new_context()) as another,
    ):
        visit.measure_by_tape("23.5")
        visit.open("Share this answer")
        visit.press("Make a link")
        tab, stranger = visit.tab, another.new_page()
        link = tab.locator("code", has_text="share=").inner_text().strip()
        mine = tab.locator(".pf-answer h1").inner_text()
        for address in (proxy.url, other.url):
            stranger.goto(link.replace(proxy.url, address))
            stranger.wait_for_selector(".pf-answer h1", timeout=60_000)
            assert stranger.locator(".pf-answer h1").inner_text() == mine
        one.kill()
        tab.reload()
        visit.see_text(SITE["en"].lost)
        tab.get_by_role("button", name="Use a tape instead").wait_for()
        stranger.goto(link)
        stranger.wait_for_selector(".pf-answer h1", timeout=60_000)
        assert stranger.locator(".pf-answer h1").inner_text() == mine
