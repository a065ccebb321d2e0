"""What goes between phone and server: one description of entries, bundle, request and reply, for both sides.

Pure: shapes and nothing else. The server builds and reads these structs; `python -m tests.vectors.wire` writes them as the types
that the scripts are checked against.
"""
