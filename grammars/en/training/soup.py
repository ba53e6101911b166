"""Mixes the weights of two networks of one shape: `soup.py A.npz B.npz SHARE_OF_B OUT.npz`."""

import sys

import numpy as np

if __name__ == "__main__":
    with np.load(sys.argv[1]) as a, np.load(sys.argv[2]) as b:
        share = float(sys.argv[3])
        names = [k for k in a.files if k in b.files]
        np.savez(sys.argv[4], **{k: ((1 - share) * a[k].astype("f4") + share * b[k].astype("f4")).astype("f2") for k in names})
