"""What an offline checker finds wrong with a page for people who do not see or do not point."""

from __future__ import annotations

from typing import TYPE_CHECKING

from axe_playwright_python.sync_playwright import Axe

if TYPE_CHECKING:
    from playwright.sync_api import Page

SERIOUS = ("serious", "critical")


def serious(page: Page) -> list[str]:
    """The serious and critical findings, as short texts."""
    found = Axe().run(page).response["violations"]
    return [
        f"{one['id']}: {one['help']} ({one['nodes'][0]['html'][:120]})" for one in found if one["impact"] in SERIOUS
    ]
