"""Sign-in: signing in and out, passwords, known browsers, limits on guesses, and practitioners' accounts."""

from flask import Blueprint

from webapp.practice.door import account, page, welcome

blueprint = Blueprint("door", __name__)
blueprint.route("/sign-in", methods=["GET", "POST"])(page.sign_in)
blueprint.route("/account", methods=["GET", "POST"])(account.account)
blueprint.route("/welcome/<token>", methods=["GET", "POST"])(welcome.welcome)
blueprint.post("/sign-out")(page.sign_out)
