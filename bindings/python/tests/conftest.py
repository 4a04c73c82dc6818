"""Puts the library built by cargo beside the generated module, where that looks for it."""

import os
import pathlib
import shutil
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
ROOT = HERE.parents[2]
END = "dylib" if sys.platform == "darwin" else "so"

library = pathlib.Path(os.environ.get("EBBSTEAD_LIBRARY", ROOT / "target" / "debug")) / f"libebbstead_ffi.{END}"
if not library.exists():
    raise SystemExit(f"{library.name} is not built; run bindings/generate.sh, or name its folder with EBBSTEAD_LIBRARY")

_place = tempfile.TemporaryDirectory()
(pathlib.Path(_place.name) / library.name).symlink_to(library)
shutil.copy(HERE.parent / "ebbstead.py", _place.name)
sys.path.insert(0, _place.name)
