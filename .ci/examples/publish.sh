#!/bin/sh
# Publishes a manual in CI: run it when the main branch or a tag moves, and
# serve the folder it writes from any static host.
#
#	usage: publish.sh MANUAL FOLDER
#
# Nothing is written unless the audit finds no error. Releases that are Git
# tags need the tags: fetch them if CI made a shallow copy.
set -eu

manual=$1 folder=$2

if git -C "$manual" rev-parse --is-shallow-repository 2>/dev/null | grep -q true; then
	git -C "$manual" fetch --tags --unshallow
fi

# A finding does not stop a release by itself, but someone should have read it.
# The audit's status is 0 if it finds nothing, 1 if it finds anything.
status=0
workings audit "$manual" || status=$?
[ "$status" -le 1 ] || exit "$status"

workings publish "$manual" -o "$folder"

# What was written is what will be served.
(cd "$folder" && sha256sum --check --quiet files.sha256)
