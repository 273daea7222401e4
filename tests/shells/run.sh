#!/usr/bin/env bash
# Loads the completions that the program prints into real shells and presses the key in each: bash,
# zsh and fish, from Debian. The program is the `topdress` on the path, or the one TOPDRESS names.
set -euo pipefail
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
if [ -n "${TOPDRESS:-}" ]; then
    PATH=$(cd "$(dirname "$TOPDRESS")" && pwd):$PATH
fi
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
mkdir "$work/garden" "$work/empty"
cp "$root/examples/school-garden/season.toml" "$work/garden/season.toml"
cp "$root/examples/balcony/season.toml" "$work/garden/balcony.toml"
for shell in bash zsh fish powershell; do topdress generate "$shell" >"$work/$shell"; done
cp "$work/zsh" "$work/_topdress"

faults=0 asked=0
# Asks a shell what could stand at the end of a line, and looks for words in what it offers:
#     offers SHELL FOLDER LINE WANTED [UNWANTED]
offers() {
    local shell=$1 folder=$2 line=$3 wanted=$4 unwanted=${5:-} told
    asked=$((asked + 1))
    told=$(cd "$work/$folder" && timeout 60 "$shell" "$here/ask.$shell" "$work" "$line" 2>&1) || true
    if ! grep -qE -- "$wanted" <<<"$told"; then
        echo "$shell: '$line' should offer $wanted, and told:" >&2
        printf '%s\n' "$told" | head -n 8 >&2
        faults=$((faults + 1))
    elif [ -n "$unwanted" ] && grep -qE -- "$unwanted" <<<"$told"; then
        echo "$shell: '$line' should not offer $unwanted" >&2
        faults=$((faults + 1))
    fi
}

for shell in bash zsh fish; do
    offers $shell garden 'topdress pl' '\<plan\>' '\<buy\>'
    offers $shell garden 'topdress plan --form' '--format'
    offers $shell garden 'topdress work --format i' '\<ics\>' '\<csv\>'
    offers $shell garden 'topdress bed nor' 'north-1' 'south-1'
    offers $shell garden 'topdress bed --season balcony.toml pep' 'pepper-pots'
    offers $shell garden 'topdress check --sign old' 'oldest-first' 'newest-first'
    offers $shell garden 'topdress check north-1 --crop br' 'broccoli'
    offers $shell garden 'topdress record kitchen cal' 'calcium-nitrate'
    offers $shell garden 'topdress sum removal cab' 'cabbage'
    offers $shell garden 'topdress help sum la' '\<label\>' '\<dose\>'
    offers $shell garden 'topdress sum measure --from ure' '\<urea\>'
    # Where there is no season, commands are offered all the same.
    offers $shell empty 'topdress che' '\<check\>'
    offers $shell empty 'topdress sum measure --from ure' '\<urea\>'
done

# What is offered is taken: the name of a bed with a space in it, as the shells write it.
(cd "$work/garden" && topdress bed north-1 --on 2027-04-01 --format json >/dev/null)

# There is no PowerShell in Debian: what can be told without one is that the script asks the program.
for part in 'Register-ArgumentCompleter -Native -CommandName topdress' 'TOPDRESS_COMPLETE' '& topdress --'; do
    grep -qF -- "$part" "$work/powershell" || {
        echo "powershell: the script lacks $part" >&2
        faults=$((faults + 1))
    }
done
# The manual page is one that man can set.
topdress generate man >"$work/topdress.1"
if command -v man >/dev/null; then
    warned=$(MANWIDTH=80 man --warnings -l "$work/topdress.1" 2>&1 >"$work/manual")
    grep -q 'topdress sum dose --need' "$work/manual" || {
        echo "man: the page lacks its examples" >&2
        faults=$((faults + 1))
    }
    [ -z "$warned" ] || { echo "man: $warned" >&2; faults=$((faults + 1)); }
fi
echo "$asked completions asked in bash, zsh and fish: $faults faults"
[ "$faults" -eq 0 ]
