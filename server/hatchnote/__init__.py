"""hatchnote: the record a rooftop-unit technician makes while he works.

Importing this package loads nothing heavy; the rooms (`speech`, `notes`, `trade`, `tickets`) load
what they need when they are first used.
"""

__version__ = "0.1.0"
