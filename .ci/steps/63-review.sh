# The kept figures of the review, which tests/review.rs compares core with, are still what NumPy computes.
# after: python
set -euo pipefail
if [ ! -x "$CI_VENV/bin/python" ]; then
    echo "no Python environment; see the step of that name"
    exit 77
fi
if [ -z "$EBBSTEAD_SHARED" ]; then
    echo "no shared data beside the checkout (name it with EBBSTEAD_SHARED)"
    exit 77
fi
"$CI_VENV/bin/python" tests/reference/review_reference.py "$EBBSTEAD_SHARED/open-data/cgm" | cmp - tests/fixtures/review.json
echo "the review's figures are NumPy's"
