"""`halfturn restored`: after a backup was put back, phones send again."""

from webapp.cli import main
from webapp.records import epoch
from webapp.records.database import open_records


def test_after_a_restore_the_log_has_another_epoch(capsys, tmp_path):
    environ = {"HALFTURN_DB": str(tmp_path / "halfturn.db")}
    assert main(["migrate"], environ) == 0
    before = epoch.current(open_records(tmp_path / "halfturn.db"))
    assert main(["restored"], environ) == 0
    assert epoch.current(open_records(tmp_path / "halfturn.db")) != before
    assert "sends all its entries again" in capsys.readouterr().out
