#!/bin/sh
# Looks at the program's pages from outside (check.mjs): that of the sample, of kept journals with and without sound inside, of the
# demo where a journal of it is named, and sheets. Needs node 20, npm and Chromium (Debian: chromium); not part of the tests.
#   tests/pages/run.sh [JOURNAL-OF-THE-DEMO]
set -eu
here=$(cd "$(dirname "$0")" && pwd)
cd "$here/../.."
work=${CARGO_TARGET_DIR:-target}/pages
rm -rf "$work/pages" "$work/pictures"
mkdir -p "$work/pages" "$work/pictures" "$work/data"
work=$(cd "$work" && pwd)
cp "$here/package.json" "$here/check.mjs" "$work/"
(cd "$work" && npm install --no-package-lock --no-audit --no-fund --silent)

# The tests of the report leave their pages here.
cargo test --locked --no-default-features --quiet --test report --test one_file > "$work/made.log" 2>&1 ||
  { cat "$work/made.log" >&2; exit 1; }
cp "${CARGO_TARGET_DIR:-target}/tmp/report/record.html" "$work/pages/sample.html"
cp "${CARGO_TARGET_DIR:-target}/tmp/record-with-sound.html" "$work/pages/with-sound.html"
program() { BOTHHANDS_DATA="$work/data" cargo run --locked --no-default-features --quiet -- "$@"; }
for language in en de; do
  program report tests/journals/concluded.jsonl --as html --language $language > "$work/pages/keys-$language.html"
  program sheet tests/journals/concluded.jsonl --language $language > "$work/pages/sheet-filled-$language.html"
  program sheet --profile sweeper-sensor-pack --meter handheld-6000 --language $language > "$work/pages/sheet-blank-$language.html"
done
if [ $# -gt 0 ]; then
  program report "$1" --as html --one-file > "$work/pages/demo.html"
fi
cd "$work"
exec node check.mjs pictures pages/*.html
