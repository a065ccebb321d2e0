"""Serving the program: settings of the machine, connections, threads, and recipes for what stands in front.

Knows HTTP and the operating system; of the program only how it is made and where the desk's pages begin.
"""
