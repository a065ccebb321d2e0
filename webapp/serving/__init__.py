"""The server: connections, threads, and recipes for a proxy or systemd in front of it.

Knows HTTP and the operating system. Of the program it knows only how to create it, and the path of the desk's pages.
"""
