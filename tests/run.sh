#!/usr/bin/env bash
# Passes the tests on a fresh machine: installs what they need (Debian packages, when root), then runs all of them.
# A part that is missing fails, in words; nothing is skipped.
set -euo pipefail
cd "$(dirname "$0")/.."

# The label's foreign decoder, what reads the exported sheets, and a real window with its finger, its scanner, its eyes,
# a window manager, a label printer, and a cable between two serial ports.
declare -A wanted=([zbarimg]=zbar-tools [Xvfb]=xvfb [xdotool]=xdotool [import]=imagemagick [openbox]=openbox [cc]=gcc
  [pdftotext]=poppler-utils [qpdf]=qpdf [ippeveprinter]=cups-ipp-utils [socat]=socat
  [dbus-run-session]=dbus)
missing=()
for command in "${!wanted[@]}"; do
  command -v "$command" >/dev/null || missing+=("${wanted[$command]}")
done
# Loaded by the window when it opens, so that no command tells whether it is there.
ldconfig -p | grep -q libxkbcommon-x11 || missing+=(libxkbcommon-x11-0)
ldconfig -p | grep -q libXcursor || missing+=(libxcursor1 libxi6)
# The Python libraries of the tests go into a virtual environment.
python3 -c 'import ensurepip, venv' 2>/dev/null || missing+=(python3 python3-venv)
if ((${#missing[@]})); then
  if ((EUID != 0)); then
    echo "missing, and not root to install them: apt-get install ${missing[*]}" >&2
    exit 1
  fi
  apt-get update -qq
  DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null
fi
command -v cargo >/dev/null || { echo "cargo is missing: install Rust 1.95 or newer" >&2; exit 1; }

libraries="${CARGO_TARGET_DIR:-target}/crosscheck"
if ! cmp -s tests/crosscheck/requirements.txt "$libraries/requirements.txt"; then
  python3 -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "Python 3.11 or newer is missing" >&2; exit 1; }
  rm -rf "$libraries"
  python3 -m venv "$libraries"
  "$libraries/bin/python" -m pip install --quiet --disable-pip-version-check -r tests/crosscheck/requirements.txt ||
    { echo "the numerical libraries of tests/crosscheck could not be installed" >&2; exit 1; }
  # Only now: a half-made environment is made again.
  cp tests/crosscheck/requirements.txt "$libraries/"
fi

cargo test --workspace
# The screens once more with every word two fifths longer, as other languages may be.
# Of the whole workspace, so that the libraries are those of above and are not built anew.
SPARKOUT_LONG_WORDS=1 cargo test --workspace --test screens expansion
