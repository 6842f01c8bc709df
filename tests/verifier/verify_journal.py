"""A verifier of a kiosk's journal that shares nothing with the program but the description of its formats.

    python verify_journal.py kiosk.db [--checkpoint NOTE] [--proof FILE --entry FILE --key LINE]

RFC 6962 (hashes), C2SP tlog-checkpoint and signed-note (heads), C2SP tlog-proof (proof files), RFC 8032 (Ed25519, by
the `cryptography` package). One line for each thing that does not hold; exit status 0 when all does, 1 when not.
"""

import argparse
import base64
import hashlib
import json
import sqlite3
import sys

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

ED25519 = b"\x01"


class Broken(Exception):
    pass


def leaf_hash(data):
    return hashlib.sha256(b"\x00" + data).digest()


def node_hash(left, right):
    return hashlib.sha256(b"\x01" + left + right).digest()


class Peaks:
    """The roots of the complete subtrees, largest first: all that is needed to go on."""

    def __init__(self):
        self.size = 0
        self.roots = []

    def push(self, leaf):
        self.roots.append(leaf)
        self.size += 1
        size = self.size
        while size % 2 == 0:
            right = self.roots.pop()
            self.roots.append(node_hash(self.roots.pop(), right))
            size //= 2

    def root(self):
        if not self.roots:
            return hashlib.sha256(b"").digest()
        whole = self.roots[-1]
        for left in reversed(self.roots[:-1]):
            whole = node_hash(left, whole)
        return whole


def key_id(name, key):
    return hashlib.sha256(name.encode() + b"\n" + ED25519 + key).digest()[:4]


def key_of_line(line):
    name, hexed, encoded = line.strip().split("+", 2)
    data = base64.b64decode(encoded, validate=True)
    if data[:1] != ED25519 or len(data) != 33:
        raise Broken("the key is not Ed25519")
    if bytes.fromhex(hexed) != key_id(name, data[1:]):
        raise Broken("the key's id is not that of its name and bytes")
    return name, data[1:]


def is_signed(key, text, signature):
    try:
        Ed25519PublicKey.from_public_bytes(key).verify(signature, text)
        return True
    except InvalidSignature:
        return False


def head_text(origin, size, root):
    return f"{origin}\n{size}\n{base64.b64encode(root).decode()}\n".encode()


def read_note(note, name, key):
    """(size, root) of a note that this key has signed under this name."""
    text, lines = note.rsplit("\n\n", 1)
    text += "\n"
    for line in lines.splitlines():
        dash, signer, encoded = line.split(" ")
        data = base64.b64decode(encoded, validate=True)
        if dash == "\u2014" and signer == name and data[:4] == key_id(name, key):
            if not is_signed(key, text.encode(), data[4:]):
                raise Broken("the note's signature does not fit its text")
            origin, size, root = text.splitlines()[:3]
            if origin != name:
                raise Broken(f"the note is of the log {origin}, not of {name}")
            return int(size), base64.b64decode(root, validate=True)
    raise Broken(f"{name} has not signed the note with this key")


def parent_of(leaf):
    """(size, root) of the log that this one goes on from, if the entry says so; the note's signer is another name."""
    try:
        body = json.loads(leaf).get("body", {})
    except (ValueError, AttributeError):
        return None
    if not isinstance(body, dict) or body.get("kind") != "continues":
        return None
    _, size, root = body["parent"].splitlines()[:3]
    return int(size), base64.b64decode(root, validate=True)


def verify_database(path, checkpoint):
    database = sqlite3.connect(f"file:{path}?mode=ro", uri=True)
    origin, key = database.execute("SELECT origin, public_key FROM station").fetchone()
    heads = dict((size, (root, signature)) for size, root, signature in
                 database.execute("SELECT size, root, signature FROM checkpoint ORDER BY size"))
    for size, (root, signature) in heads.items():
        if not is_signed(key, head_text(origin, size, root), signature):
            raise Broken(f"the head of {size} entries is not signed by the log's key")
    vouched = read_note(checkpoint, origin, key) if checkpoint else None
    peaks, held = Peaks(), 0
    first_signed = min((size for size in heads if size > 0), default=0)
    suspect = None

    def meet_head():
        nonlocal held, suspect
        if peaks.size not in heads:
            return
        if heads[peaks.size][0] != peaks.root():
            first = suspect or held + 1
            raise Broken(f"entry {first} is not as it was signed")
        held, suspect = peaks.size, None

    meet_head()
    hashes = dict(database.execute("SELECT idx, hash FROM node WHERE level = 0"))
    for seq, leaf in database.execute("SELECT seq, leaf FROM journal ORDER BY seq"):
        if seq != peaks.size + 1:
            raise Broken(f"entry {peaks.size + 1} is missing")
        parent = parent_of(leaf) if seq == first_signed else None
        if parent and parent != (peaks.size, peaks.root()):
            raise Broken(f"the entries before {seq} are not those of the log that it names")
        if parent:
            print(f"parent {parent[0]} {parent[1].hex()}")
        peaks.push(leaf_hash(leaf))
        if hashes.get(seq - 1) != leaf_hash(leaf) and suspect is None:
            suspect = seq
        meet_head()
        if vouched and vouched[0] == peaks.size and vouched[1] != peaks.root():
            raise Broken(f"the {peaks.size} entries vouched for are not those of this journal")
    newest = max(heads, default=0)
    if newest > peaks.size:
        raise Broken(f"entry {peaks.size + 1} is missing: cut from the end")
    if held != peaks.size:
        raise Broken(f"entry {held + 1} is not covered by a signed head")
    if vouched and vouched[0] > peaks.size:
        raise Broken(f"cut: {vouched[0]} entries were vouched for")
    print(f"verified {peaks.size} {peaks.root().hex()}")


def path_root(index, size, leaf, path):
    """RFC 6962, 2.1.1, read from the root downwards: which half holds the leaf, and whose hash the path gives."""
    if size == 1:
        if path:
            raise Broken("the path is too long")
        return leaf
    if not path:
        raise Broken("the path is too short")
    half = 1
    while half * 2 < size:
        half *= 2
    if index < half:
        return node_hash(path_root(index, half, leaf, path[:-1]), path[-1])
    return node_hash(path[-1], path_root(index - half, size - half, leaf, path[:-1]))


def verify_proof(proof, entry, line):
    name, key = key_of_line(line)
    head, note = proof.split("\n\n", 1)
    lines = head.splitlines()
    if lines.pop(0) != "c2sp.org/tlog-proof@v1":
        raise Broken("not a tlog-proof")
    if lines[0].startswith("extra "):
        lines.pop(0)
    index = int(lines.pop(0).removeprefix("index "))
    path = [base64.b64decode(one, validate=True) for one in lines]
    size, root = read_note(note, name, key)
    if index >= size or path_root(index, size, leaf_hash(entry), path) != root:
        raise Broken(f"these bytes are not entry {index + 1}")
    print(f"proved {index + 1} {size}")


def main():
    arguments = argparse.ArgumentParser()
    arguments.add_argument("database", nargs="?")
    for name in ("checkpoint", "proof", "entry", "key"):
        arguments.add_argument(f"--{name}")
    given = arguments.parse_args()

    def read(path):
        with open(path, "rb") as file:
            return file.read()

    try:
        if given.database:
            verify_database(given.database, given.checkpoint and read(given.checkpoint).decode())
        if given.proof:
            verify_proof(read(given.proof).decode(), read(given.entry), given.key)
    except (Broken, ValueError, sqlite3.Error) as error:
        print(f"FAILS {error}")
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
