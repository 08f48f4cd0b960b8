"""Workbench: what an author needs of the living program: replay, simulate.

In: knowledge, transcripts, a seed. Out: figures and differences. Never: a customer's case.
"""
