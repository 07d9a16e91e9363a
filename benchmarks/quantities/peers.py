"""Runs one general library over lines of text, in the environment that holds it.

Standard input: JSON list of texts. Standard output: JSON {"answers": [[[value, unit name], ...], ...], "ms": a line}.
Usage: python peers.py quantulum3|recognizers|nemo|nemo+quantulum3
"""

import contextlib
import io
import json
import re
import sys
import time


def quantulum3():
    from quantulum3 import parser

    def read(text):
        out = []
        for q in parser.parse(text):
            if q.unit.name == "dimensionless" or q.unit.entity.name == "currency":
                continue
            ends = [q.value - q.uncertainty, q.value + q.uncertainty] if q.uncertainty else [q.value]
            out += [[value, q.unit.name] for value in ends]  # a range is two quantities here
        return out

    return read


def recognizers():
    from recognizers_number_with_unit import recognize_dimension, recognize_temperature
    from recognizers_text import Culture

    def read(text):
        found = recognize_dimension(text, Culture.English) + recognize_temperature(text, Culture.English)
        return [
            [float(r.resolution["value"]), r.resolution["unit"]]
            for r in found
            if r.resolution and r.resolution.get("value") not in (None, "")
        ]

    return read


def nemo_text():
    from nemo_text_processing.inverse_text_normalization.inverse_normalize import InverseNormalizer

    normalizer = InverseNormalizer(lang="en")
    return lambda text: normalizer.inverse_normalize(text, verbose=False)


def nemo():
    """The normaliser only writes; a number followed by a word is taken as a quantity of that word."""
    write = nemo_text()
    pattern = re.compile(r"(-?\d[\d,]*(?:\.\d+)?)\s*([^\s\d,.;]+(?:\.[a-z]\.)*)")
    return lambda text: [[float(v.replace(",", "")), u] for v, u in pattern.findall(write(text))]


def nemo_quantulum3():
    write, read = nemo_text(), quantulum3()
    return lambda text: read(write(text))


PEERS = {
    "quantulum3": quantulum3,
    "recognizers": recognizers,
    "nemo": nemo,
    "nemo+quantulum3": nemo_quantulum3,
}


def main():
    texts = json.load(sys.stdin)
    with contextlib.redirect_stdout(io.StringIO()):
        read = PEERS[sys.argv[1]]()
        for text in texts[:5]:
            with contextlib.suppress(Exception):
                read(text)
        answers, failed = [], 0
        began = time.process_time()
        for text in texts:
            try:
                answers.append(read(text))
            except Exception:
                failed += 1
                answers.append([])
        spent = time.process_time() - began
    json.dump({"answers": answers, "ms": 1000 * spent / len(texts), "failed": failed}, sys.stdout)


if __name__ == "__main__":
    main()
