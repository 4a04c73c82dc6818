# The reference computations in general-purpose Python libraries get their own environment with pinned versions.
# after: tools
# waits for the network
set -euo pipefail
if ! python3 -c 'import ensurepip, venv' 2>/dev/null; then
    echo "python3-venv is missing; the reference computations cannot run"
    exit 77
fi
stamp="$CI_VENV/requirements.txt"
if ! cmp -s tests/requirements.txt "$stamp"; then
    python3 -m venv --clear "$CI_VENV"
    "$CI_VENV/bin/pip" install --quiet --disable-pip-version-check -r tests/requirements.txt
    cp tests/requirements.txt "$stamp"
fi
"$CI_VENV/bin/python" -c 'import sys, numpy, statsmodels; print("python", sys.version.split()[0], "numpy", numpy.__version__, "statsmodels", statsmodels.__version__)'
