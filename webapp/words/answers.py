"""What the server says to a phone or a browser that it cannot serve: one sentence for each code.

May know the codes and the values they name; nothing of requests.
"""

from webapp.words.catalogue import mark, words_for

ANSWERS = {
    # joining
    "unknown_link": mark("This link is not known here. Ask your practitioner for a new one."),
    "unknown_code": mark(
        "That code is not known here. A code has eight letters. Look at yours again and type it once more."
    ),
    "used": mark("This invitation has been used already. Ask your practitioner for a new one."),
    "joined_to_another": mark(
        "This phone keeps the entries of somebody else. To change over, open Halfturn here, go to “Settings”, then “Your data”, press"
        " “Remove from this phone”, and open the invitation again."
    ),
    "over": mark("This invitation has run out. Ask your practitioner for a new one."),
    "too_many_tries": mark(
        "Too many wrong codes came from this network. Wait %(minutes)s min and try again, or ask for a link instead."
    ),
    "no_invitation": mark("Neither a link nor a code was given. Open the link you were sent, or type the code."),
    # who is speaking
    "not_joined": mark(
        "This phone is not joined, or no longer. Your entries stay on it; type a new code to send them."
    ),
    "another_client": mark(
        "These entries belong to somebody else than the phone is joined as. They stay on the phone."
    ),
    "from_elsewhere": mark("This request came from another site and was refused. Open the page here and try again."),
    "to_confirm": mark(
        "The server was put back from a copy, and your practitioner has to confirm this phone. Tell them."
        " Your entries stay on the phone and go out by themselves then."
    ),
    "nothing_kept": mark(
        "The server cannot keep anything just now, and this has been noted. Nothing was taken, so nothing of yours"
        " is lost; try again later."
    ),
    # the shape of a request
    "not_json": mark("The request must be of type application/json; it was of type %(type)s."),
    "bad_request": mark("The request cannot be read: %(what)s"),
    "bad_format": mark("The request has format %(format)s; this server reads format 1."),
    "bad_day": mark("“on” is %(value)s; it must be a day from %(first)s to %(last)s, written as YYYY-MM-DD."),
    "too_large": mark("The request is too large. Send at most %(events)s entries or %(kilobytes)s kB at once."),
    "unreadable": mark("The request cannot be read. Go back, load the page again and try once more."),
    "wrong_host": mark("This site does not answer under that name. Open it at %(origin)s."),
    "not_found": mark("There is nothing at this address."),
    "not_allowed": mark("This address does not take that kind of request."),
    "failed": mark("Something went wrong here, and it has been noted. Nothing of yours is lost; try again later."),
    "too_much_today": mark(
        "This phone has sent more today than is taken in a day. All of it stays on the phone and is sent tomorrow."
        " If this comes again, tell your practitioner."
    ),
    # the same on a page, for a person
    "page_not_found": mark(
        "There is nothing at this address. Perhaps it was typed wrongly, or the page is gone. Use a link below."
    ),
    "page_too_large": mark(
        "That was too much at once, and nothing was saved. Go back, shorten what you typed, and send it again."
    ),
    "page_failed": mark(
        "Something went wrong here, and it has been noted. What was saved before is still there. Go back, look whether"
        " your last change was saved, and try again in a few minutes."
    ),
    # one event of a batch
    "not_an_object": mark("The entry must be a JSON object."),
    "event_too_large": mark("The entry has %(value)s bytes; it may have at most %(most)s."),
    "not_from_a_phone": mark(
        "An entry of the kind “%(value)s” is made by the practitioner and not taken from a phone."
    ),
    "same_id_other_content": mark(
        "There is already an entry with this id. The first entry stays; this one is not used."
    ),
    "refused_not_kept": mark(
        "This was refused, as too much else of this phone was before, so only the phone keeps it. Leave it there and"
        " tell your practitioner."
    ),
    "event_fault": mark("“%(field)s” is %(value)s; the rule is: %(rule)s."),
}


def answer(code: str, locale: str, **gaps: object) -> str:
    """Return the sentence of a code in a language, its gaps filled.

    Raises:
        KeyError: There is no such code.
    """
    return words_for(locale).say(ANSWERS[code], **gaps)
