"""Use cases without HTTP: take a batch of events, fold a client's log, make the bundle, answer a phone.

Never trusts a phone's clock for order; decides no dose itself, but asks the dosing core.
"""
