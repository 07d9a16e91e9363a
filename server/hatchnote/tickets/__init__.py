"""From facts and judgement to one ticket: assembly, the customer's summary, and the document form."""

from hatchnote.tickets.assemble import assemble
from hatchnote.tickets.document import to_json

__all__ = ["assemble", "to_json"]
