"""The intake of a client who tells it on the phone: what is known before, and to which routine a told place belongs."""

from collections.abc import Mapping
from typing import Any

AREA_OF = {
    "outer_elbow": "outer_elbow",
    "inner_elbow": "inner_elbow",
    "wrist_back": "wrist",
    "wrist_front": "wrist",
    "forearm_back": "outer_elbow",
    "forearm_front": "inner_elbow",
}
"""The starter routine for a place that hurts; the practitioner may choose another (own choice)."""
TOLD_LATER: Mapping[str, Any] = {"by_client": True, "area": "", "arms": [], "weights": []}
"""The intake of a client who tells it on the phone, until the practitioner confirms it."""
