"""Use cases without HTTP: store a batch of events, fold a client's log, make the bundle, answer a phone.

This room never trusts a phone's clock for order. It decides no dose itself, but calls the dosing core.
"""
