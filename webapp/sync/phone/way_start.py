"""Where a way back stands, as it goes to a phone with the anchors."""

from webapp.dosing.returning.table import go_table
from webapp.sync.folding.returning import WayBack
from webapp.wire.sync import WayStart


def wired_way(way: WayBack) -> WayStart:
    """Return a way back as it goes to a phone."""
    opened, (step, go, lately, away, flare) = way.opened, way.state
    return WayStart(
        ladder=opened.ladder,
        opened=opened.on.isoformat(),
        reason=opened.reason,
        by=opened.by,
        on=way.on.isoformat(),
        step=step,
        row=go_table().rows.index(go),
        lately=lately,
        away=away,
        flare=flare,
        is_clear=way.is_clear,
    )
