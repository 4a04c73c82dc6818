"""Makes a wheel of the generated module, the library and the way to pandas: `wheel.py LIBRARY_FOLDER OUT_FOLDER [LICENCES]`.

A wheel is a ZIP with a few files of its own (PyPA, binary distribution format), so nothing but Python is needed. The library is taken as
it was built: `bash bindings/phone-library.sh` builds the small one. LICENCES is the file of that name which .ci/parts.py writes: the
texts of what the library is made with, which most of them ask to be passed on.
"""

import base64
import hashlib
import sys
import sysconfig
import tomllib
import zipfile
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
END = "dylib" if sys.platform == "darwin" else "so"


def main():
    if len(sys.argv) not in (3, 4):
        sys.exit(__doc__)
    library, out = Path(sys.argv[1]) / f"libebbstead_ffi.{END}", Path(sys.argv[2])
    if not library.exists():
        sys.exit(f"{library} is not built")
    package = tomllib.loads((ROOT / "Cargo.toml").read_text())["workspace"]["package"]
    # It goes with every Python 3, for ctypes loads the library; and with this system and processor alone.
    tag = f"py3-none-{sysconfig.get_platform().replace('-', '_').replace('.', '_')}"
    info = f"ebbstead-{package['version']}.dist-info"
    metadata = f"""\
Metadata-Version: 2.4
Name: ebbstead
Version: {package['version']}
Summary: A companion for people with insulin-treated diabetes: treat, check or hold, with its reasons. No medical device.
License-Expression: {package['license']}
License-File: LICENSE-MIT
License-File: LICENSE-APACHE
Requires-Python: >=3.10
Provides-Extra: pandas
Requires-Dist: pandas>=2; extra == "pandas"
Description-Content-Type: text/markdown

{(HERE / 'README.md').read_text()}"""
    files = {
        "ebbstead/__init__.py": (HERE / "ebbstead.py").read_bytes(),
        "ebbstead/frames.py": (HERE / "frames.py").read_bytes(),
        "ebbstead/py.typed": b"",
        f"ebbstead/{library.name}": library.read_bytes(),
        f"{info}/METADATA": metadata.encode(),
        f"{info}/WHEEL": f"Wheel-Version: 1.0\nGenerator: wheel.py\nRoot-Is-Purelib: false\nTag: {tag}\n".encode(),
        f"{info}/licenses/LICENSE-MIT": (ROOT / "LICENSE-MIT").read_bytes(),
        f"{info}/licenses/LICENSE-APACHE": (ROOT / "LICENSE-APACHE").read_bytes(),
    }
    if len(sys.argv) == 4:
        files[f"{info}/licenses/licences.txt"] = Path(sys.argv[3]).read_bytes()
    record = "".join(
        f"{name},sha256={base64.urlsafe_b64encode(hashlib.sha256(content).digest()).rstrip(b'=').decode()},{len(content)}\n"
        for name, content in files.items()
    )
    files[f"{info}/RECORD"] = (record + f"{info}/RECORD,,\n").encode()

    out.mkdir(parents=True, exist_ok=True)
    wheel = out / f"ebbstead-{package['version']}-{tag}.whl"
    with zipfile.ZipFile(wheel, "w", zipfile.ZIP_DEFLATED) as packed:
        for name, content in files.items():
            # One time for all, so that the same content makes the same wheel.
            packed.writestr(zipfile.ZipInfo(name, (2026, 1, 1, 0, 0, 0)), content, zipfile.ZIP_DEFLATED)
    print(wheel)


main()
