#!/usr/bin/env bash
# Puts the system packages in place that a job needs: packages.sh build|test|bench…
#
# What counts is whether the thing is there, not which package brought it, so a
# machine that is ready is left alone, whatever system it runs. Where something
# is missing, Debian and its kin get it by apt-get; elsewhere the script says
# what to install and stops.
set -euo pipefail

missing=() # Debian's package names
wanted=()  # what each of them is wanted for, for a person to read

need() { # need DEBIAN-PACKAGE WHAT CHECK…
  local package=$1 what=$2
  shift 2
  if ! "$@" >/dev/null 2>&1; then
    missing+=("$package")
    wanted+=("  $what (Debian: $package)")
  fi
}

tool() { need "$1" "the program $2" command -v "$2"; }
header() { need "$1" "the development files of $2" pkg-config --exists "$2"; }

# A container made for building may hold no certificates, and then Go can fetch
# no library.
certificates() {
  [ -s "${SSL_CERT_FILE:-/etc/ssl/certs/ca-certificates.crt}" ]
}

compiler() {
  command -v "${CC:-gcc}" || command -v cc || command -v clang
}

c_library() {
  echo '#include <stdlib.h>' | "$(compiler | head -n 1)" -E -
}

need_build() {
  # macOS has OpenGL and its window system in the compiler's own kit.
  if [ "$(uname -s)" = Darwin ]; then
    need gcc "a C compiler (xcode-select --install)" compiler
    return
  fi
  need gcc "a C compiler" compiler
  need libc6-dev "the C library's development files" c_library
  if [ -e /etc/debian_version ]; then
    need ca-certificates "certificates for fetching Go libraries" certificates
  fi
  tool pkg-config pkg-config
  header libgl-dev gl
  header libx11-dev x11
  header libxcursor-dev xcursor
  header libxi-dev xi
  header libxinerama-dev xinerama
  header libxrandr-dev xrandr
  header libxxf86vm-dev xxf86vm
}

need_test() {
  tool git git
  tool xvfb Xvfb
  tool openbox openbox
  tool xdotool xdotool
  tool x11-utils xprop
  tool imagemagick import
  tool qpdf qpdf
  tool poppler-utils pdftotext
  # The window is drawn in software there; and the window manager writes titles.
  need libgl1-mesa-dri "Mesa's software OpenGL" mesa
  need fonts-dejavu-core "a font for window titles" fonts
}

mesa() { compgen -G '/usr/lib/*/dri/swrast_dri.so' || compgen -G '/usr/lib*/dri/swrast_dri.so'; }
fonts() { compgen -G '/usr/share/fonts/*/*'; }

need_bench() {
  tool libvips-tools vipsthumbnail
  tool img2pdf img2pdf
  tool time /usr/bin/time
}

[ $# -gt 0 ] || { echo "usage: packages.sh build|test|bench…" >&2; exit 2; }
for job; do
  case $job in
    build | test | bench) "need_$job" ;;
    *) echo "packages.sh: no such job: $job (build, test, bench)" >&2; exit 2 ;;
  esac
done

[ ${#missing[@]} -gt 0 ] || exit 0

if ! command -v apt-get >/dev/null; then
  {
    echo "These are missing; please install them, then run make again:"
    printf '%s\n' "${wanted[@]}"
  } >&2
  exit 1
fi

as_root=()
if [ "$(id -u)" -ne 0 ]; then
  if ! command -v sudo >/dev/null; then
    {
      echo "These are missing, and there is no sudo to install them with. As root:"
      echo "  apt-get update && apt-get install --no-install-recommends ${missing[*]}"
    } >&2
    exit 1
  fi
  as_root=(sudo)
fi

apt() {
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -q -o Dpkg::Use-Pty=0 -o DPkg::Lock::Timeout=300 "$@" </dev/null
}

echo "Installing: ${missing[*]}"
log=$(mktemp)
trap 'rm -f "$log"' EXIT
# One of the machine's other sources may be out of order without any harm to us;
# whether the lists serve shows when the packages are asked for.
apt update >"$log" 2>&1 || true
if ! apt install -y --no-install-recommends "${missing[@]}" >>"$log" 2>&1; then
  cat "$log" >&2
  echo "packages.sh: apt-get could not install: ${missing[*]}" >&2
  exit 1
fi
