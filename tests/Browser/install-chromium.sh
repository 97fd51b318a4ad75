#!/usr/bin/env bash
# The browser tests drive a real Chromium. Uses the one that is there; else installs Debian's package.
set -euo pipefail
for name in chromium chromium-browser google-chrome google-chrome-stable; do
    if command -v "$name" > /dev/null; then exit 0; fi
done
if ! command -v apt-get > /dev/null; then
    echo "No Chromium found. Install one, or set WASHWEAR_TEST_CHROMIUM to its path, and run again." >&2
    exit 1
fi
as_root=()
if [ "$(id -u)" -ne 0 ]; then as_root=(sudo); fi
"${as_root[@]}" apt-get update -qq
DEBIAN_FRONTEND=noninteractive "${as_root[@]}" apt-get install -y -qq --no-install-recommends chromium > /dev/null
