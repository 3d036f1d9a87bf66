"""Signing a bundle's list of hashes, and telling by whom it was: OpenSSH's `ssh-keygen -Y`, which says in its manual how keys are named."""

from __future__ import annotations

import subprocess
from pathlib import Path

_FOR = "rangebook-bundle"
"""What a signature is for, so that one for something else does not do."""


class NotSignedError(Exception):
    """It could not be signed, or the signature is not that of whom it should be; the message says why."""


def sign(file: Path, key: Path) -> None:
    """Put the signature of ``file`` beside it, with ``.sig`` behind its name. Raises :class:`NotSignedError`."""
    _keygen(["sign", "-f", str(key), "-n", _FOR, str(file)], b"", f"it was not signed with {key}")


def signed_by(data: bytes, signature: Path, signers: Path, name: str) -> None:
    """Raises :class:`NotSignedError` unless the signature of ``data`` is that of ``name`` in the list ``signers`` (`allowed_signers`)."""
    words = ["verify", "-f", str(signers), "-I", name, "-n", _FOR, "-s", str(signature)]
    _keygen(words, data, f"the signature is not that of {name} in {signers}")


def _keygen(words: list[str], data: bytes, failed: str) -> None:
    try:
        done = subprocess.run(["ssh-keygen", "-Y", *words], input=data, capture_output=True, check=False)
    except OSError as error:
        raise NotSignedError(f"{failed}: ssh-keygen of OpenSSH cannot be started ({error.strerror})") from error
    if done.returncode:
        said = (done.stderr or done.stdout).decode("utf-8", "replace").strip().splitlines()
        raise NotSignedError(f"{failed}: {said[-1] if said else 'it does not say why'}")
