#!/bin/sh
# Makes the Python environment that tests/verdict_reference.rs compares with, in target/reference-venv.
set -eu
cd "$(dirname "$0")/../.."
venv=target/reference-venv
if [ ! -x "$venv/bin/python3" ]; then
    python3 -m venv "$venv"
fi
"$venv/bin/pip" install --quiet --disable-pip-version-check -r tests/reference/requirements.txt
