#!/bin/sh
# Opens every page of every example in a browser. Needs node and Debian's chromium; fetches the rest
# from npm at the versions pinned in package-lock.json. All that it makes lies beneath the target
# folder. Settings: TOPDRESS names the program to be tested, CHROMIUM the browser, EXAMPLES the folder
# of examples, IMAGES a folder in which the pages are kept as pictures.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
target=${CARGO_TARGET_DIR:-$root/target}
for tool in node npm "${CHROMIUM:-chromium}"; do
    if ! command -v "$tool" >/dev/null; then
        echo "tests/browser: installing nodejs, npm and chromium" >&2
        apt-get update -qq && apt-get install -qqy --no-install-recommends nodejs npm chromium
        break
    fi
done
if [ -z "${TOPDRESS:-}" ]; then
    cargo build --quiet --manifest-path "$root/Cargo.toml"
    TOPDRESS=$target/debug/topdress
fi
work=$target/browser
mkdir -p "$work"
cp "$here/package.json" "$here/package-lock.json" "$here/check.js" "$work"
(cd "$work" && npm ci --silent --no-audit --no-fund)
pages=$work/pages
rm -rf "$pages"
mkdir "$pages"
made=0
for season in "${EXAMPLES:-$root/examples}"/*/season.toml; do
    [ -f "$season" ] || continue
    name=$(basename "$(dirname "$season")")
    year=$(sed -n 's/^year *= *\([0-9]*\).*/\1/p' "$season" | head -n 1)
    day=$year-04-01
    make() {
        kind=$1
        shift
        "$TOPDRESS" "$@" --season "$season" --on "$day" --format html \
            --output "$pages/$name-$kind.html"
        made=$((made + 1))
    }
    make plan plan
    make work work
    make buy buy
    # Every bed of the example has its page; signs are seen in the first.
    sed -n '/^\[\[bed\]\]/,/^name/s/^name *= *"\(.*\)".*/\1/p' "$season" >"$work/beds"
    asked=
    while IFS= read -r bed; do
        slug=$(printf %s "$bed" | tr -c 'a-zA-Z0-9\n' -)
        make "bed-$slug" bed "$bed"
        [ -n "$asked" ] && continue
        asked=$bed
        first() {
            sed -n "/^name *= *\"$bed\"/,/^$1/s/^$1 *= *\"*\([^\"]*\)\"*.*/\1/p" "$season" | head -n 1
        }
        crop=$(first crop)
        # Three weeks after its planting the crop stands.
        day=$(date -d "$(first planted) + 3 weeks" +%F)
        make "check-$slug" check "$bed" --crop "$crop" --sign oldest-first --sign uniform --anyway
        day=$year-04-01
    done <"$work/beds"
done
"$TOPDRESS" lesson --seed 7 --format html --output "$pages/lesson.html"
if [ "$made" -eq 0 ]; then
    echo "tests/browser: no example was found" >&2
    exit 1
fi
node "$work/check.js" "$pages"
