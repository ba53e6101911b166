"""Gets trained weights back out of a model folder, to go on from or to align with.

usage: weights.py FOLDER OUT.npz

Reads what export.py writes: matrices of 16 bits a value come back to within 1/65535 of their span.
"""

import pathlib
import struct
import sys

import numpy as np

# Component -> name of its weights; factored layers are l2a (narrow) and l2 (wide), and so on.
MARK = b"<ComponentName> "


def matrix(data, at):
    low, span, rows, columns = struct.unpack_from("<ffii", data, at + 4)
    levels = np.frombuffer(data, "<u2", rows * columns, at + 20)
    return (levels.astype("f4") / 65535 * span + low).reshape(rows, columns)


def vector(data, at):
    (size,) = struct.unpack_from("<i", data, at + 4)
    return np.frombuffer(data, "<f4", size, at + 8).copy()


def field(part, name, read):
    tag = b"<" + name + b"> "
    return read(part, part.index(tag) + len(tag))


def read(folder):
    """The weights by name, as train.py takes them."""
    data = (pathlib.Path(folder) / "am/final.mdl").read_bytes()
    out = {}
    # The mark cannot stand inside of a matrix by chance often enough to matter: sixteen given bytes.
    for part in data[data.index(MARK) :].split(MARK)[1:]:
        name = part[: part.index(b" ")].decode()
        if b"<FixedAffineComponent>" in part[:60]:
            w = field(part, b"LinearParams", matrix)
            if name.startswith("l") and name.endswith("a"):
                out[name[:-1] + ".lin"] = w
            else:
                out[name + ".w"] = w
                if name not in ("pre", "pl"):
                    out[name + ".b"] = field(part, b"BiasParams", vector)
        elif b"<BatchNormComponent>" in part[:60]:
            stem = name.removesuffix(".bn")
            out[stem + ".mean"] = field(part, b"StatsMean", vector)
            out[stem + ".var"] = field(part, b"StatsVar", vector)
    return out


if __name__ == "__main__":
    np.savez(sys.argv[2], **read(sys.argv[1]))
