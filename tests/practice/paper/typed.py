"""Types a week in at the desk."""


def week(hedda, path, **typed):
    address = f"{path}/diary?from=2026-03-02"
    hedda.open(address)
    return hedda.send(address, hedda.form().to_dict() | typed, follow=True)
