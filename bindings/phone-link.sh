#!/usr/bin/env bash
# Links as `cc` does, but without what only the generators of bindings read: uniffi exports a description of each item, some 80 KB that
# nothing on a phone looks at, and what is exported stays.
set -euo pipefail
for argument in "$@"; do
    case "$argument" in
    *--version-script=*) sed -i '/UNIFFI_META_/d' "${argument##*=}" ;;
    esac
done
exec cc "$@"
