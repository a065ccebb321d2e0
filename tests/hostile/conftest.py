"""The fixtures of tests/practice: the site with the cast in it."""

from tests.practice.conftest import furnished, site  # noqa: F401 - fixtures
