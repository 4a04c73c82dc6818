# Builds libraries, programs and tests once, for all that follows.
# after: tools
set -euo pipefail
. .ci/build.sh
build
echo "built: $(find "$debug" -maxdepth 1 -type f -executable | wc -l) programs and libraries"
