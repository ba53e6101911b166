#!/usr/bin/env bash
# Installs the Debian package in a bare Debian 12 root without Rust, runs the demo there as an ordinary user, takes it away again and looks
# for what is left; then the same demo out of the archive. Nothing but Debian's packages comes over the network.
#
# usage: tests/package.sh     after .setup/package; needs root, and mmdebstrap (or BASE=FILE, a tar of a bare root)
# Where one of them is missing it says so and ends with 77, "not run".
set -euo pipefail
cd "$(dirname "$0")/.."
say() { printf '== %s\n' "$*"; }
not_run() { echo "not run: $1" >&2; exit 77; }

deb=$(ls target/packages/bothhands_*.deb 2> /dev/null | tail -n 1)
archive=$(ls target/packages/bothhands-*.tar.xz 2> /dev/null | tail -n 1)
[ -n "$deb" ] && [ -n "$archive" ] || not_run "there are no packages: .setup/package makes them"
[ "$(id -u)" = 0 ] || not_run "a bare root can only be made by root"
root=$(mktemp -d)
end() {
  umount -R "$root/proc" "$root/dev" 2> /dev/null || true
  if ! findmnt -rn -o TARGET | grep -q "^$root/"; then rm -rf --one-file-system "$root"; fi
}
trap end EXIT

if [ -n "${BASE-}" ]; then
  tar xf "$BASE" -C "$root"
elif command -v mmdebstrap > /dev/null; then
  # The mirror that this machine uses, where it is a Debian itself.
  uri=$(sed -n 's/^URIs: *//p' /etc/apt/sources.list.d/*.sources 2> /dev/null | head -n 1)
  mmdebstrap --quiet --variant=minbase bookworm "$root" ${uri:+"$uri"}
else
  not_run "mmdebstrap is not installed"
fi
# Only how this machine reaches the network.
cp -L /etc/resolv.conf /etc/hosts "$root/etc/"
for path in /etc/apt/sources.list.d /etc/apt/apt.conf.d/99* /etc/ssl/certs /usr/local/share/ca-certificates; do
  if [ -e "$path" ]; then mkdir -p "$root$(dirname "$path")"; cp -aL "$path" "$root$(dirname "$path")/"; fi
done
if [ -s "$root/etc/apt/sources.list.d/debian.sources" ]; then : > "$root/etc/apt/sources.list"; fi
mkdir -p "$root/proc" "$root/dev"
mount -t proc proc "$root/proc"
mount --rbind /dev "$root/dev"
mount --make-rslave "$root/dev"
cp "$deb" "$root/tmp/bothhands.deb"
cp "$archive" "$root/tmp/bothhands.tar.xz"
inside() { chroot "$root" env -i HOME="${home:-/root}" PATH=/usr/sbin:/usr/bin:/sbin:/bin LANG=C.UTF-8 DEBIAN_FRONTEND=noninteractive "$@"; }
as_user() { home=/home/tester; chroot --userspec=tester:tester "$root" env -i HOME=/home/tester PATH=/usr/bin:/bin LANG=C.UTF-8 "$@"; home=; }

say "install (recommended packages too, as apt does by default)"
inside apt-get -qq update
started=$(date +%s)
inside apt-get -qq -y -o APT::Install-Recommends=true install /tmp/bothhands.deb > "$root/tmp/apt.log" 2>&1 || { tail "$root/tmp/apt.log"; exit 1; }
say "installed in $(($(date +%s) - started)) s; $(inside dpkg-query -W -f '${Installed-Size}' bothhands) KiB"
if inside sh -c 'command -v cargo || command -v rustc'; then echo "there is a Rust in the bare root"; exit 1; fi
inside useradd -m tester
inside dpkg -L bothhands > "$root/tmp/files"

say "it finds its files, and what it needs"
as_user bothhands --version
as_user bothhands check files
for _ in 1 2 3; do
  before=$(date +%s%N); as_user bothhands --version > /dev/null; echo "start-up: $((($(date +%s%N) - before) / 1000000)) ms"
done
for page in bothhands bothhands-judge; do inside test -s "/usr/share/man/man1/$page.1.gz"; done
for file in bash-completion/completions/bothhands zsh/vendor-completions/_bothhands fish/vendor_completions.d/bothhands.fish \
  applications/bothhands.desktop icons/hicolor/scalable/apps/bothhands.svg doc/bothhands/copyright; do inside test -s "/usr/share/$file"; done
inside test -s /usr/lib/udev/rules.d/70-bothhands-pedals.rules

demo() {
  local log=$root/tmp/demo.log
  if as_user "$@" > "$log" 2>&1; then say "passed: $(grep -c '^heard' "$log") answers heard; $(grep '^result' "$log" | head -n 1)"
  else tail -n 30 "$log"; say "FAILED: $*"; exit 1; fi
  grep 'first sound of the answer' "$log" | tail -n 1
}
say "the demo, through sound"
demo bothhands demo --data /home/tester/data

say "removed again"
inside apt-get -qq -y purge bothhands > "$root/tmp/apt.log" 2>&1
left=$(while read -r path; do
  # A folder that other packages use too stays.
  if [ -e "$root$path" ] && { [ ! -d "$root$path" ] || [[ $path == *bothhands* ]]; }; then echo "$path"; fi
done < "$root/tmp/files")
left+=$(find "$root/usr" "$root/etc" "$root/var" -iname '*bothhands*' -not -path '*/apt/*')
[ -z "$left" ] || { echo "left behind: $left"; exit 1; }
inside test -d /home/tester/data/sessions
say "nothing left but the person's data"

say "the archive, unpacked in a home folder"
inside sh -c 'command -v xz > /dev/null || apt-get -qq -y install xz-utils > /dev/null 2>&1'
as_user sh -c 'cd && tar xf /tmp/bothhands.tar.xz && mv bothhands-* bothhands'
demo /home/tester/bothhands/bin/bothhands demo --data /home/tester/data
say "all passed"
