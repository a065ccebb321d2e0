"""Paper for a client without a phone: the printed sheet, handing it out, and the diary typed in or brought as a table."""

from flask import Blueprint

from webapp.practice.paper import diary, sheet, summary, table

blueprint = Blueprint("paper", __name__)
blueprint.get("/cases/<public_id>/sheet")(sheet.show_sheet)
blueprint.post("/cases/<public_id>/sheet")(sheet.hand_out)
blueprint.get("/cases/<public_id>/diary")(diary.show_diary)
blueprint.post("/cases/<public_id>/diary")(diary.save_diary)
blueprint.get("/cases/<public_id>/diary/table")(table.show_table)
blueprint.post("/cases/<public_id>/diary/table")(table.bring_table)
blueprint.get("/cases/<public_id>/summary")(summary.show_summary)
