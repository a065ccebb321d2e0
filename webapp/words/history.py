"""What somebody did at the desk, as a sentence without a subject: by the name of the act's address.

May know the names of addresses; knows no practitioner and no client.
"""

from webapp.words.catalogue import Words, mark

DEEDS = {
    "practice.door.sign_in": mark("signed in"),
    "practice.door.sign_out": mark("signed out"),
    "practice.door.welcome": mark("set a password and signed in"),
    "practice.door.account": mark("changed the own account"),
    "practice.door.change_password": mark("set another password"),
    "practice.door.see_password": mark("took note of what happened to the password"),
    "practice.case.add_client": mark("added a client"),
    "practice.case.add_by_name": mark("added a client by name"),
    "practice.case.confirm": mark("confirmed the intake"),
    "practice.case.release_hold": mark("released a hold"),
    "practice.case.clear_start": mark("agreed to the start"),
    "practice.case.rest": mark("set a rest until a day"),
    "practice.case.set_by_hand": mark("set an arm by hand"),
    "practice.case.write_note": mark("wrote a private note"),
    "practice.case.strike_note": mark("struck out a private note"),
    "practice.case.put_away": mark("put a case into the archive"),
    "practice.case.take_back": mark("took a case out of the archive"),
    "practice.case.delete": mark("deleted a client"),
    "practice.case.take_up_offer": mark("took up an offer"),
    "practice.case.set_course": mark("set the course"),
    "practice.returning.open_way": mark("opened a way back to sport or work"),
    "practice.returning.end_way": mark("ended a way back to sport or work"),
    "practice.case.answer": mark("wrote a letter"),
    "practice.case.mark_seen": mark("marked letters as read"),
    "practice.case.correct_intake": mark("corrected the intake"),
    "practice.case.name_activities": mark("wrote down activities"),
    "practice.case.invite": mark("made an invitation"),
    "practice.case.withdraw_invitation": mark("withdrew an invitation"),
    "practice.case.confirm_phone": mark("confirmed a phone"),
    "practice.case.revoke_phone": mark("revoked a phone"),
    "practice.caseload.mark": mark("marked a client as seen"),
    "practice.caseload.take_back": mark("took a mark back"),
    "practice.routine.offer": mark("offered a routine to the practice"),
    "practice.routine.withdraw_offered": mark("took an offered routine back"),
    "practice.routine.edit": mark("pushed a routine, or set the habit"),
    "practice.paper.hand_out": mark("handed out a routine on paper"),
    "practice.paper.save_diary": mark("typed in a paper diary"),
    "practice.paper.bring_table": mark("brought a diary as a table"),
    **dict.fromkeys(
        (f"practice.records.carry_one_{form}" for form in ("json", "csv", "fhir")),
        mark("took a client’s records along as a file"),
    ),
    **dict.fromkeys(
        (f"practice.records.carry_all_{form}" for form in ("json", "csv", "ndjson")),
        mark("took all own clients’ records along as a file"),
    ),
    **dict.fromkeys(
        (f"practice.records.carry_practice_{form}" for form in ("json", "csv", "ndjson")),
        mark("took the records of all clients of the practice along as a file"),
    ),
    "practice.records.bring": mark("brought clients in from a file"),
    "practice.records.show_records": mark("set how long records are kept"),
    "practice.groups.add": mark("invited a group"),
    "practice.groups.close": mark("closed a group to newcomers"),
    "practice.movements.make": mark("made a movement"),
    "practice.movements.change": mark("changed a movement"),
    "practice.movements.retire": mark("retired a movement"),
    "practice.movements.offer": mark("offered a movement again"),
    "practice.routine.push_to_several": mark("pushed a routine to several clients"),
    "practice.routine.withdraw": mark("withdrew a routine version"),
    "practice.staff.show": mark("changed the practice’s settings"),
    "practice.staff.add": mark("added a colleague"),
    "practice.staff.link": mark("made a new link for a colleague"),
    "practice.staff.remove": mark("removed a colleague"),
    "practice.staff.make_owner": mark("made a colleague an owner"),
    "practice.staff.make_member": mark("made an owner a member"),
    "practice.staff.hand_over": mark("handed a client over"),
    "practice.staff.hand_over_of": mark("handed clients of a colleague over"),
    "practice.staff.see": mark("took note of a hand-over"),
}
BY_SERVER = {
    "server.password": mark("was given another password, by whoever runs the server"),
    "server.owner": mark("was made an owner, by whoever runs the server"),
    "server.member": mark("was made a member, by whoever runs the server"),
}
"""What is done by the command line to the account of the one who is named."""
OTHER = mark("did something else (%(what)s)")


def deed_text(words: Words, act: str) -> str:
    """Return what was done, by the name of its address; an act without a sentence of its own is named by that."""
    known = DEEDS | BY_SERVER
    return words.say(known[act]) if act in known else words.say(OTHER, what=act.removeprefix("practice."))
