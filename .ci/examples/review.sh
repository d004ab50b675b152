#!/bin/sh
# Reviews a change to a manual in CI: run it on every change that is proposed.
#
#	usage: review.sh MANUAL BASE FOLDER
#
# BASE is the revision that the change is proposed against, such as
# origin/main. Into FOLDER go
#
#	audit.sarif   what the audit finds, in the SARIF 2.1.0 that code hosts show at the lines
#	moved.md      the figures that the change moves and what moved them, for a comment on the change
#	site/         the manual as it would be published, to look at
#
# The exit status is that of the audit: 0 if it finds nothing.
set -eu

manual=$1 base=$2 folder=$3
mkdir -p "$folder"

status=0
workings audit --format sarif "$manual" >"$folder/audit.sarif" || status=$?
[ "$status" -le 1 ] || exit "$status"
# The same again for whoever reads the log.
[ "$status" -eq 0 ] || workings audit "$manual" || true

# A base that cannot be read, because the manual is new or was broken, is no
# reason to fail the change.
if ! workings compare --format markdown "$base" . "$manual" >"$folder/moved.md"; then
	echo "The figures of $base could not be had, so nothing is compared." >"$folder/moved.md"
fi

if ! workings publish "$manual" -o "$folder/site"; then
	status=1
fi
exit "$status"
