#!/bin/sh
# Write the lock files anew from pyproject.toml. Needs uv (pip install uv); people who only use Rangebook do not.
#     sh tools/lock/renew.sh               what pyproject.toml now asks for, the rest as it was
#     sh tools/lock/renew.sh --upgrade     everything as new as pyproject.toml allows
set -eu
cd "$(dirname "$0")/../.."
lock() {
    file=tools/lock/$1
    shift
    uv pip compile --universal --python-version 3.11 --generate-hashes --quiet \
        --custom-compile-command "sh tools/lock/renew.sh" --output-file "$file" "$@" > /dev/null
}
# What installs stands in the older format: the pip that comes with a Python cannot read the standard one yet.
lock build.txt --group build "$@"
lock pylock.test.toml pyproject.toml --constraint tools/lock/build.txt --group build --group test --group check "$@"
# What is in a file already is kept where it can be: so the smaller one has the versions of the larger.
cp tools/lock/pylock.test.toml tools/lock/pylock.run.toml
lock pylock.run.toml pyproject.toml --constraint tools/lock/build.txt --group build
