# SPDX-License-Identifier: GPL-3.0-or-later
# Copyright (C) 2026 the dregs authors
# chroot.sh: bare systems of Debian, for debian.sh and newcomer.sh, which source it once they have set
# $suite, $chroots and $mirror (empty: that of the running system). It makes $work, which goes at the
# end with all that is in it. A bare system is packed as $chroots/SUITE.tar, and taken from there the
# next time: `make clean` removes it. As root, with the network.
# shellcheck shell=sh disable=SC2154 # what is set by those who source it

tool=$(basename "$0")
[ "$(id -u)" -eq 0 ] || {
    echo "$tool: a chroot takes root" >&2
    exit 1
}
command -v mmdebstrap >/dev/null 2>&1 || {
    echo "$tool: mmdebstrap is missing (Debian: mmdebstrap)" >&2
    exit 1
}
if [ -z "$mirror" ]; then
    # shellcheck disable=SC2016 # apt fills it in
    mirror=$(apt-get indextargets --no-release-info --format '$(REPO_URI)' 'Created-By: Packages' |
        grep '/debian/$' | sort -u | head -n 1)
fi
[ -n "$mirror" ] || {
    echo "$tool: no mirror of Debian is among the sources of apt; name one" >&2
    exit 1
}
mkdir -p "$chroots"
work=$(mktemp -d)
chmod 755 "$work"

remove_all()
{
    for root in "$work"/*-root; do
        if mountpoint -q "$root/proc"; then umount "$root/proc"; fi
    done
    # --one-file-system: should something still be mounted, it is not ours to remove
    rm -rf --one-file-system "$work"
}
trap remove_all EXIT
trap 'exit 1' HUP INT TERM

# bare NAME: a bare system as $work/NAME-root; what apt asks of the network is as outside
bare()
{
    if [ ! -s "$chroots/$suite.tar" ]; then
        mmdebstrap --quiet --mode=root --variant=minbase "$suite" "$chroots/$suite.new.tar" "$mirror"
        mv "$chroots/$suite.new.tar" "$chroots/$suite.tar"
    fi
    mkdir "$work/$1-root"
    tar -xf "$chroots/$suite.tar" --numeric-owner -C "$work/$1-root"
    cp /etc/resolv.conf "$work/$1-root/etc/resolv.conf"
    echo "$1" >"$work/$1-root/etc/hostname"
    mount -t proc proc "$work/$1-root/proc"
}

# inside NAME COMMAND...: by root, in $work/NAME-root
inside()
{
    root=$work/$1-root
    shift
    env -i PATH="${path-/usr/sbin:/usr/bin:/sbin:/bin}" HOME="${home-/root}" TERM=dumb LC_ALL=C.UTF-8 \
        DEBIAN_FRONTEND=noninteractive DEB_BUILD_OPTIONS="${DEB_BUILD_OPTIONS-}" \
        DEB_BUILD_PROFILES="${DEB_BUILD_PROFILES-}" chroot "$root" "$@"
}
