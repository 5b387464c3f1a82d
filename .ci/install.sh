# shellcheck shell=bash
# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by run and check: what the machine needs, how it is installed, and how a build folder is set up.
# Everything here speaks on stderr, so that stdout stays the program's.

# One need a line: the package, other packages that do as well behind bars, and why.
# shellcheck disable=SC2034 # used by run and check
seamtally_build_needs=(
  'gcc                     the C compiler'
  'libc6-dev               headers of the C library'
  'meson                   configures the build'
  'ninja-build             runs the build'
  'pkgconf|pkg-config      finds the libraries'
  'libgsl-dev              GSL: least squares, distributions, random numbers'
  'libglpk-dev             GLPK: the mix of methods under limits'
  'libpango1.0-dev         cairo and Pango: pictures and printed pages'
  'libglib2.0-dev          GLib: strings, lists, objects, files'
  'libsqlite3-dev          SQLite: office and job files'
  'libxlsxwriter-dev       libxlsxwriter: workbooks'
  'libminizip-dev          what libxlsxwriter asks for on Debian 13'
  'libzip-dev              libzip: reads a written workbook back, to see that it is whole'
  'libgtk-4-dev            GTK 4: the window'
  'libadwaita-1-dev        libadwaita: the looks of the window'
  'adwaita-icon-theme      icons of the window'
  'fonts-dejavu-core|fonts-cantarell   a font to draw with'
  'gettext                 translated messages'
)
# shellcheck disable=SC2034 # used by check
seamtally_test_needs=(
  'libreoffice-calc-nogui|libreoffice-calc   recalculates the written workbooks in tests'
  'python3                                    tests of the sources and of the commands'
  'xvfb                                       a display for the tests of the window'
  'xauth                                      the key of that display'
  'xdotool                                    real keys and clicks in those tests'
  'poppler-utils                              reads the words of written PDF pages in tests'
  'xclip                                      text of another program on the clipboard in those tests'
  'dbus                                       a session for the tests of the window'
  'at-spi2-core                               what assistive technology sees of the window'
  'python3-pyatspi                            reads it in the tests'
)

say ()
{
  printf '%s\n' "$*" >&2
}

# Installs what is missing of the needs given, with apt-get. Silent when nothing is missing.
# SEAMTALLY_NO_INSTALL=1 leaves the machine as it is.
install_needs ()
{
  [ "${SEAMTALLY_NO_INSTALL:-}" != 1 ] || return 0

  local need names name here candidates=() missing=() reasons=() found as_root=()
  if ! command -v dpkg-query >/dev/null; then
    say 'This is no Debian system, so nothing is installed by itself. What is needed, by its names on Debian 12:'
    printf '  %s\n' "$@" >&2
    say 'Install these in the way of this system, then set SEAMTALLY_NO_INSTALL=1 and start again.'
    return 1
  fi

  for need in "$@"; do
    IFS='|' read -ra names <<<"${need%% *}"
    candidates+=("${names[@]}")
  done
  # One call for all; it exits 1 when a name is unknown, which only means that it is not installed.
  here=" $({ dpkg-query -W -f='${db:Status-Status} ${Package}\n' "${candidates[@]}" 2>/dev/null || true; } |
    sed -n 's/^installed //p' | tr '\n' ' ')"

  for need in "$@"; do
    IFS='|' read -ra names <<<"${need%% *}"
    found=
    for name in "${names[@]}"; do
      case $here in *" $name "*) found=1 ;; esac
    done
    if [ -z "$found" ]; then
      missing+=("${names[0]}")
      reasons+=("$(sed -E 's/^[^ ]+ +//' <<<"$need")")
    fi
  done
  [ ${#missing[@]} -gt 0 ] || return 0

  say 'To be installed first:'
  for name in "${!missing[@]}"; do
    printf '  %-24s %s\n' "${missing[$name]}" "${reasons[$name]}" >&2
  done
  if ! command -v apt-get >/dev/null; then
    say "apt-get is not here. Install these packages in your own way, then start again: ${missing[*]}"
    return 1
  fi
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      say 'You are not root and sudo is not here. As root, install them with:'
      say "  apt-get install --no-install-recommends ${missing[*]}"
      return 1
    fi
    as_root=(sudo)
  fi

  # A list that cannot be refreshed may still do.
  "${as_root[@]}" apt-get -o DPkg::Lock::Timeout=300 update -q </dev/null >&2 ||
    say 'The package lists could not be refreshed; trying with those at hand.'
  if ! "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -o DPkg::Lock::Timeout=300 -o Dpkg::Use-Pty=0 \
    install -y -q --no-install-recommends "${missing[@]}" </dev/null >&2; then
    say "apt-get could not install: ${missing[*]}"
    say 'Read its message above; without a network, install these packages by hand and start again.'
    return 1
  fi
}

# configure_build SOURCE FOLDER OPTIONS...: sets the build folder up unless that was done.
configure_build ()
{
  local source=$1 folder=$2
  shift 2
  [ ! -f "$folder/build.ninja" ] || return 0
  # Left over from a set-up that was cut short.
  rm -rf "$folder/meson-private" "$folder/meson-info"
  say "Setting up ${folder#"$source"/}/ (once)."
  meson setup "$folder" "$source" "$@" </dev/null >&2
}
