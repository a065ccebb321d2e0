"""What a client agrees to by joining. Its hash is recorded with the phone, so it is known to which words somebody agreed."""

import hashlib

from webapp.words.catalogue import mark

AGREE = mark("By pressing the button you agree that {name} sees your answers.")
AGREE_BY_CODE = mark("By pressing the button you agree that your practitioner sees your answers.")
PHONE_KEEPS = mark("keeps all that you answer, and works without a network")
PRACTICE_SEES = mark("sees the same, once there is a network")
OTHERS_SEE = mark("are sent nothing")
_AGREED = (AGREE, AGREE_BY_CODE, PHONE_KEEPS, PRACTICE_SEES, OTHERS_SEE)

CONSENT_MARK = hashlib.sha256("\n".join(_AGREED).encode()).hexdigest()[:16]
"""Changes with every change of these words in English."""
