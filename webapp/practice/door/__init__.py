"""Sign-in: signing in and out, passwords, known browsers, limits on guesses, and practitioners' accounts."""

from flask import Blueprint

from webapp.practice.door import page

blueprint = Blueprint("door", __name__)
blueprint.route("/sign-in", methods=["GET", "POST"])(page.sign_in)
blueprint.post("/sign-out")(page.sign_out)
