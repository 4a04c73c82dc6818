"""Lays the library built by cargo, the generated module and the way to pandas out as the wheel does."""

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
_package = pathlib.Path(_place.name) / "ebbstead"
_package.mkdir()
(_package / library.name).symlink_to(library)
shutil.copy(HERE.parent / "ebbstead.py", _package / "__init__.py")
shutil.copy(HERE.parent / "frames.py", _package)
sys.path.insert(0, _place.name)
