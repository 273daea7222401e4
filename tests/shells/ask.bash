# Presses the completion key at the end of a line in bash: ask.bash FOLDER LINE
source "$1/bash"
read -ra COMP_WORDS <<<"$2"
COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
COMP_LINE=$2 COMP_POINT=${#2} COMP_TYPE=9
command=$(complete -p topdress)
[[ $command =~ -F\ ([^ ]+) ]]
"${BASH_REMATCH[1]}" topdress "${COMP_WORDS[COMP_CWORD]}" "${COMP_WORDS[COMP_CWORD - 1]}"
printf '%s\n' "${COMPREPLY[@]}"
