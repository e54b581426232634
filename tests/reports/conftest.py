"""A browser for the pages: a Chromium of the system, without screen and without network."""

from __future__ import annotations

import importlib.util
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page

QUIET = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
"""A browser that asks nobody anything by itself."""


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """The browser; skips where none is installed."""
    program = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if program is None or importlib.util.find_spec("playwright") is None:
        pytest.skip("no Chromium, or no playwright, is installed here")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        made = driver.chromium.launch(executable_path=program, args=QUIET)
        yield made
        made.close()


class Opened:
    """Opens texts as pages in a window of a size; `check` fails where one asked for anything beyond its own file."""

    def __init__(self, browser: Browser, folder: Path) -> None:
        self.browser = browser
        self.folder = folder
        self.asked: list[str] = []
        self.said: list[str] = []

    def __call__(self, text: str, width: int = 1000, height: int = 900) -> Page:
        """The text as a page."""
        path = self.folder / "page.html"
        path.write_text(text, encoding="utf-8")
        page = self.browser.new_page(viewport={"width": width, "height": height})
        page.on("request", lambda request: self.asked.append(request.url))
        page.on("console", lambda message: self.said.append(message.text))
        page.on("pageerror", lambda error: self.said.append(str(error)))
        page.goto(path.as_uri())
        return page

    def check(self) -> None:
        """Nothing but the file itself was asked for, and no error was said."""
        assert all(one.startswith("file://") for one in self.asked), self.asked
        assert not self.said, self.said


def printed(page: Page) -> str:
    """What a page is on paper, as text with single spaces."""
    import io
    from unicodedata import normalize

    import pypdf

    reader = pypdf.PdfReader(io.BytesIO(page.pdf(prefer_css_page_size=True)))
    text = " ".join(one.extract_text() for one in reader.pages)
    return " ".join(normalize("NFKC", text).split())  # letters that are drawn as one are two again


@pytest.fixture
def opened(browser: Browser, tmp_path: Path) -> Iterator[Opened]:
    """Opens pages; when the test ends, what they asked for and said is looked at."""
    made = Opened(browser, tmp_path)
    yield made
    made.check()
