"""The phones of these stories: how large they are, and how long a story waits for what they show."""

import pytest
from playwright.sync_api import Page

SIZES = ((360, 640), (390, 844))
USUAL_SIZE = SIZES[-1]
# What does not depend on the size is tried on the usual one, and on the other in the long trials.
EACH_SIZE = [
    pytest.param(SIZES[0], id="360x640", marks=pytest.mark.long),
    pytest.param(USUAL_SIZE, id="390x844"),
]
WAIT_MILLISECONDS = 30_000


def phone_options(width: int = USUAL_SIZE[0], height: int = USUAL_SIZE[1], scheme: str = "light") -> dict:
    """How a phone of this size differs from a desk."""
    return {
        "viewport": {"width": width, "height": height},
        "device_scale_factor": 2,
        "is_mobile": True,
        "has_touch": True,
        "locale": "en-GB",
        "timezone_id": "UTC",
        "color_scheme": scheme,
    }


def larger_text(page: Page, times: float) -> None:
    """Show all words larger, as a reader's own setting does."""
    # In a sheet of its own: the app writes the size that its settings say into the element itself.
    page.add_init_script(
        f"""addEventListener('DOMContentLoaded', () => {{
          const sheet = new CSSStyleSheet();
          sheet.replaceSync('html {{ font-size: {100 * times}% }}');
          document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
        }})"""
    )
