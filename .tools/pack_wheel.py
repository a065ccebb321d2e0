"""Hatch's hook for the wheel: what browsers fetch goes in packed, so that an installed wheel serves without Bun."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class CustomBuildHook(BuildHookInterface):
    """Packs the sources when a wheel is built; an editable install packs them when it starts."""

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Pack into a folder that the wheel is told to take in."""
        if version == "editable":
            return
        sys.path.insert(0, self.root)
        from webapp.packing import packed, sources_dir  # noqa: PLC0415 - found beside this file only now

        self._made = tempfile.TemporaryDirectory()
        build_data["force_include"][str(packed(sources_dir(), Path(self._made.name)))] = "webapp/_pwa_assets"

    def finalize(self, version: str, _build_data: dict[str, Any], _artifact: str) -> None:
        """Throw away what was packed."""
        if version != "editable":
            self._made.cleanup()
