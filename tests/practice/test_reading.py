"""How often a page of the desk reads a client's whole log, counted in SQL statements."""

from tests.builders import days_of
from tests.cast import FIRST_DAY
from tests.practice.conftest import hold_cellist


def _whole_logs_read(site, visitor, path):
    statements = []
    records = site.app.extensions["halfturn"].db()
    records.conn.set_trace_callback(statements.append)
    visitor.open(path)
    records.conn.set_trace_callback(None)
    assert visitor.page.status_code == 200
    return sum("raw" in each and "seq > 0 " in each and "LIMIT -1" in each for each in statements)


def test_the_case_page_of_a_client_who_was_never_held_reads_their_whole_log_once(site, hedda):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 1)] * 5))
    assert _whole_logs_read(site, hedda, f"/practice/cases/{site.founder.public_id}") == 1


def test_the_case_page_of_a_held_client_reads_it_for_the_reports_too_but_four_times_at_most(site, hedda):
    hold_cellist(site)
    assert _whole_logs_read(site, hedda, f"/practice/cases/{site.cellist.public_id}") <= 4


def test_the_caseload_reads_no_log_twice(site, hedda):
    site.begin(site.founder, days_of(FIRST_DAY, [(1, 1)] * 5))
    hold_cellist(site)
    assert _whole_logs_read(site, hedda, "/practice") == 2
    assert _whole_logs_read(site, hedda, "/practice") == 0
