"""Taking back a version that no phone has received yet."""

from werkzeug.wrappers import Response

from webapp.practice import desk
from webapp.practice.forms.entries import ButtonForm
from webapp.records import withdrawn


def withdraw(public_id: str, version: int) -> Response:
    """Withdraw the newest version; where a phone has received it meanwhile, nothing is changed and the page says so."""
    case = desk.known_case(public_id)
    if not ButtonForm().validate():
        return desk.send_again(case)
    is_done = withdrawn.withdraw(desk.records(), case.id, version)
    desk.say_later("version_withdrawn" if is_done else "not_withdrawn", version)
    return desk.back_to_case(case)
