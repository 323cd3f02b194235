#!/bin/sh
# Installs the Debian packages of packages.txt whose need is named: install.sh build [test] [dev].
# Asks apt only for what is missing; uses sudo when not root.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
missing=""
for need in "$@"; do
  for package in $(awk -F'|' -v need="$need" '!/^#/ && NF >= 3 { gsub(/ /, "", $1); gsub(/ /, "", $2); if ($2 == need) print $1 }' "$here/packages.txt"); do
    dpkg-query -W -f='${Status}' "$package" 2>/dev/null | grep -q 'ok installed' || missing="$missing $package"
  done
done
[ -n "$missing" ] || exit 0
command -v apt-get >/dev/null || { echo "These packages are missing and apt-get is not here to install them:$missing" >&2; exit 1; }
as_root=""
if [ "$(id -u)" -ne 0 ]; then
  command -v sudo >/dev/null || { echo "Please install as root:$missing" >&2; exit 1; }
  as_root=sudo
fi
echo "Installing:$missing" >&2
export DEBIAN_FRONTEND=noninteractive
$as_root apt-get update -qq >&2
# shellcheck disable=SC2086
$as_root apt-get install -y -qq --no-install-recommends $missing >&2
