"""The site of the practice's tests."""

from tests.practice.conftest import furnished, site  # noqa: F401 - fixtures
