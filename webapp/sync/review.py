"""The review of one client: every arm's findings, from the folded log."""

from collections.abc import Mapping
from datetime import date

from webapp.dosing.review import Case, Finding, review
from webapp.sync.fold import ArmAccount


def findings_of(accounts: Mapping[str, ArmAccount], today: date) -> dict[str, tuple[Finding, ...]]:
    """Review each arm up to a day; an arm without findings has an empty tuple."""
    return {
        arm: tuple(review(Case(account.plan, account.days, account.state, today))) for arm, account in accounts.items()
    }
