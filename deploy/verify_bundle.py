#!/usr/bin/env python3
"""Verifies a bundle of test windows, or the one in a report page, from the format in formats.md alone.

    python3 verify_bundle.py FILE [KEY-OR-FINGERPRINT]

Python 3.9 or newer; Debian: python3-cryptography. Exit code 0: it verifies; 1: it does not.
Without a second argument nothing is known of who holds the key: hold the fingerprints below against paper.
"""
import base64
import bisect
import contextlib
import hashlib
import json
import os
import sys

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

FORMAT = "tripwitness-bundle-1"
FIELDS = {"format", "log", "windows", "checkpoint", "entries", "rest", "blocks"}
DIGITS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"


def sha256(data):
    return hashlib.sha256(data).digest()


def canonical(value):
    """RFC 8785 for what is signed here: objects of texts and whole numbers, nothing else."""
    text = json.dumps(value, ensure_ascii=False, separators=(",", ":"), sort_keys=True)
    return text.encode("utf-8")


def leaf(text):
    return sha256(b"\x00" + text.encode("utf-8"))


def fingerprint(data):
    bits = int.from_bytes(sha256(data)[:10], "big")
    digits = "".join(DIGITS[bits >> shift & 31] for shift in range(75, -1, -5))
    return "-".join(digits[at:at + 4] for at in range(0, 16, 4))


def is_signed(key, message, signature):
    try:
        Ed25519PublicKey.from_public_bytes(bytes.fromhex(key)).verify(bytes.fromhex(signature), message)
        return True
    except (InvalidSignature, ValueError):
        return False


def root_of(size, leaves, rest):
    """RFC 9162, 2.1.1, where `rest` stands in for what holds none of the leaves."""
    numbers = sorted(leaves)
    known = {(first, count): bytes.fromhex(node) for first, count, node in rest}
    used = set()

    def walk(first, count):
        at = bisect.bisect_left(numbers, first)
        if at == len(numbers) or numbers[at] >= first + count:
            used.add((first, count))
            return known[first, count]
        if count == 1:
            return leaves[first]
        left = 1
        while left * 2 < count:
            left *= 2
        return sha256(b"\x01" + walk(first, left) + walk(first + left, count - left))

    root = walk(0, size)
    if len(used) != len(rest):
        raise ValueError("hashes of left-out entries lie over others")
    return root


class Check:
    def __init__(self, text):
        self.faults = []
        self.bundle = json.loads(text)
        if self.bundle.get("format") != FORMAT:
            raise ValueError(f"not of the format {FORMAT}")
        if set(self.bundle) != FIELDS or canonical(self.bundle) != text.rstrip("\n").encode("utf-8"):
            raise ValueError("not spelled as a bundle is")
        self.point = self.bundle["checkpoint"]
        self.lines = [(one["seq"], one["text"], json.loads(one["text"])) for one in self.bundle["entries"]]

    def expect(self, right, what):
        if not right:
            self.faults.append(what)

    def tree(self):
        last = -1
        for seq, text, entry in self.lines:
            self.expect(last < seq < self.point["size"] and entry["seq"] == seq, f"entry {seq} is misplaced")
            last = seq
            mine = entry["subject"] in self.bundle["windows"] or entry["kind"] in ("genesis", "key", "book", "person")
            self.expect(mine, f"entry {seq} has no business here")
        try:
            root = root_of(self.point["size"], {seq: leaf(text) for seq, text, _ in self.lines}, self.bundle["rest"])
            self.expect(root.hex() == self.point["root"], "the entries do not lead to the root")
        except KeyError as gap:
            self.faults.append(f"nothing tells what stands at {gap}")

    def keys(self):
        log, key = self.bundle["log"], None
        for seq, _, entry in self.lines:
            body = entry["body"]
            if entry["kind"] == "genesis":
                self.expect(seq == 0 and body["log"] == log, "the first entry names another log")
                key = body.get("key")
            if entry["kind"] == "key":
                statement = canonical({"key": body["key"], "log": log, "takesOverFrom": body.get("by")})
                first = key is None and "by" not in body
                handed = body.get("by") == key and is_signed(str(key), statement, body.get("proof", ""))
                self.expect(first or handed, f"entry {seq}: the key was not handed on")
                key = body["key"]
        self.expect(self.lines[0][2]["kind"] == "genesis", "the first entry is missing")
        self.expect(self.point["key"] == key, "signed with a key that is not the log's")
        signed = {name: self.point[name] for name in ("key", "root", "size", "utc")} | {"log": log, "version": 1}
        self.expect(is_signed(self.point["key"], canonical(signed), self.point["signature"]), "the signature is false")

    def blocks(self):
        named = {entry["body"]["block"]: seq for seq, _, entry in self.lines if entry["kind"] == "trace"}
        for name, seq in named.items():
            data = self.bundle["blocks"].get(name)
            held = data is not None and sha256(base64.b64decode(data, validate=True)).hex()
            self.expect(held == name, f"entry {seq}: its answers are missing or altered")
        self.expect(set(named) == set(self.bundle["blocks"]), "answers that no entry names")

    def window(self, name):
        own = [line for line in self.lines if line[2]["subject"] == name]
        opened = [entry for _, _, entry in own if entry["kind"] == "window-opened"]
        self.expect(len(opened) == 1, f"{name}: its opening is missing")
        books = []
        for text in [text for _, text, entry in self.lines if entry["kind"] == "book"]:
            start = text.index('"book":', text.index('"body":{')) + 7
            book = text[start:json.JSONDecoder().raw_decode(text, start)[1]]  # canonical, as part of canonical text
            books.append(sha256(book.encode("utf-8")).hex())
        self.expect(all(entry["body"]["book"] in books for entry in opened), f"{name}: its rulebook is missing")
        answers, findings, whole = 0, 0, None
        for at, (seq, _, entry) in enumerate(own):
            body, kind = entry["body"], entry["kind"]
            if kind == "trace":
                self.expect(body["first"] == answers, f"entry {seq}: answers before it are missing")
                answers = body["first"] + body["count"]
            findings += kind in ("finding", "verdict")
            if kind in ("window-closed", "window-interrupted"):
                counted = {"entries": at, "answers": answers, "findings": findings}
                for what, count in counted.items():
                    self.expect(body.get(what, count) == count, f"{name}: {what} are missing, or too many")
                whole = seq if "entries" in body else whole
            if kind == "signature":
                covers = body["covers"]
                covered = [leaf(text) for number, text, _ in own if number <= covers["last"]]
                digest = sha256(b"".join(covered)).hex()
                right = covers["last"] < seq and (len(covered), digest) == (covers["entries"], covers["digest"])
                self.expect(right, f"entry {seq}: the signature covers other entries")
                known = [entry["body"]["id"] for _, _, entry in self.lines if entry["kind"] == "person"]
                self.expect(body["person"]["id"] in known, f"entry {seq}: nobody knows who signed")
                whole = max(whole or 0, covers["last"])
            if kind == "amendment":
                self.expect(body["of"] in [number for number, _, _ in own], f"entry {seq}: of no entry here")
        end = "nothing counts its entries" if whole is None else f"nothing left out up to entry {whole}"
        return f"window {name}: {len(own)} entries, {end}"

    def all(self):
        self.tree()
        self.keys()
        self.blocks()
        return [self.window(name) for name in self.bundle["windows"]]


def main(arguments):
    if len(arguments) not in (1, 2):
        sys.exit(__doc__)
    try:
        with open(arguments[0], encoding="utf-8") as file:
            text = file.read()
        if text.startswith("<!DOCTYPE html>"):
            text = text.split('id="evidence">', 1)[1].split("</script>", 1)[0]
            text = canonical(json.loads(text)["bundle"]).decode("utf-8")
        check = Check(text)
        told = check.all()
    except (KeyError, TypeError, ValueError, AttributeError, IndexError, RecursionError) as why:
        return 1, f"DOES NOT VERIFY\nno bundle that can be read: {type(why).__name__}: {why}"
    point, log, own = check.point, check.bundle["log"], fingerprint(check.point["key"].encode())
    state = fingerprint(canonical({"log": log, "root": point["root"], "size": point["size"]}))
    check.expect(arguments[1:] in ([], [point["key"]], [own], [state]), "neither key nor state is the one that was asked for")
    lines = ["DOES NOT VERIFY" if check.faults else "VERIFIES", *(check.faults or told)]
    lines += [f"log {log}, {point['size']} entries, last of {point['utc']}", f"state {state}"]
    return int(bool(check.faults)), "\n".join([*lines, f"key   {own} ({point['key']})"])


if __name__ == "__main__":
    exit_code, answer = main(sys.argv[1:])
    with contextlib.suppress(BrokenPipeError):  # whoever read it has gone: the code still tells
        print(answer, flush=True)
    os._exit(exit_code)  # no second try to write at the end
