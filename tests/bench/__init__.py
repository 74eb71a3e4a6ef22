"""How long specgen takes, beside MkDocs alone on the same content: `python -m tests.bench`.

Measured in one run and in turns, so that the ratios hold on a busy computer; read them, not the
seconds.
"""
