"""Sign-in: signing in and out, passwords, known browsers, limits on guesses, and practitioners' accounts."""

from flask import Blueprint

from webapp.practice.door import account, own_password, page, welcome

blueprint = Blueprint("door", __name__)
blueprint.route("/sign-in", methods=["GET", "POST"])(page.sign_in)
blueprint.route("/account", methods=["GET", "POST"])(account.account)
blueprint.route("/account/password", methods=["GET", "POST"])(own_password.change_password)
blueprint.post("/account/password/seen")(own_password.see_password)
blueprint.get("/account/code")(welcome.show_recovery_code)
blueprint.post("/account/code/written")(welcome.forget_recovery_code)
blueprint.route("/welcome/<token>", methods=["GET", "POST"])(welcome.welcome)
blueprint.post("/sign-out")(page.sign_out)
