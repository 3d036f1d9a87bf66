#!/bin/sh
# Write the lock files anew from pyproject.toml. Needs uv (pip install uv); people who only use Rangebook do not.
#     sh tools/lock/renew.sh               what pyproject.toml now asks for, the rest as it was
#     sh tools/lock/renew.sh --upgrade     everything as new as pyproject.toml allows
set -eu
cd "$(dirname "$0")/../.."
lock() {
    file=tools/lock/$1.txt
    shift
    uv pip compile --universal --python-version 3.11 --generate-hashes --quiet \
        --custom-compile-command "sh tools/lock/renew.sh" --output-file "$file" "$@" > /dev/null
}
# `test` holds all of `run`, and `run` all of `build`, in the same versions.
lock build --group build "$@"
lock run pyproject.toml --group build --constraint tools/lock/build.txt "$@"
lock test pyproject.toml --group build --group test --constraint tools/lock/run.txt "$@"
