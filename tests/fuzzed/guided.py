"""Inputs that reach new code, looked for by atheris, which has to be installed (it has wheels for
CPython on Linux): `python -m tests.fuzzed.guided SORT FOLDER [OPTION...]`.

It begins with what is saved for the sort, and keeps in FOLDER what it finds; OPTIONs are those of
libFuzzer (`-runs=100000`, `-max_total_time=600`, `-merge=1`).
"""

import sys
from pathlib import Path

import atheris  # type: ignore[import-not-found]

with atheris.instrument_imports(include=["specgen"]):
    from tests.fuzzed.inputs import SORTS
from tests.fuzzed.__main__ import CORPUS, corpus_of
from tests.fuzzed.mutations import TOKENS


def _escaped(text: str) -> str:
    raw = text.encode("utf-8", "surrogatepass")
    return "".join(chr(b) if 32 < b < 127 and b not in b'"\\' else f"\\x{b:02x}" for b in raw)


def main(name: str, folder: Path, options: list[str]) -> None:
    sort = SORTS[name]
    seeds = sort.seeds()
    names = sorted(seeds)
    folder.mkdir(parents=True, exist_ok=True)
    saved = CORPUS / f"{name.replace(' ', '-')}.json"
    begun = [*seeds.items(), *(corpus_of(saved)[1] if saved.is_file() else ())]
    for number, (of, content) in enumerate(begun):
        (folder / f"begun-{number}").write_bytes(bytes([names.index(of)]) + content)
    words = folder.with_name(f"{folder.name}.words")
    lines = {f'"{_escaped(each)}"' for each in TOKENS if 0 < len(each) < 60}
    words.write_text("\n".join(sorted(lines)) + "\n")

    def one(data: bytes) -> None:
        if data:
            sort.tried(names[data[0] % len(names)], bytes(data[1:]))

    sort.tried(names[0], seeds[names[0]])
    limits = ("-max_len=4000", "-timeout=20", "-rss_limit_mb=1500")
    atheris.Setup([sys.argv[0], *limits, f"-dict={words}", *options, str(folder)], one)
    atheris.Fuzz()


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]), sys.argv[3:])
