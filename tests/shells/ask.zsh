# Presses the completion key at the end of a line in zsh: ask.zsh FOLDER LINE
# The completion system only works where there is a terminal, so that one is made. The script is loaded
# by name from the folder, as it is from a grower's own.
zmodload zsh/zpty
zpty asked "TERM=dumb zsh -f -i"
zpty -w asked "PS1=; unsetopt zle_bracketed_paste prompt_cr prompt_sp 2>/dev/null; stty cols 200"
zpty -w asked "fpath=(${(q)1} \$fpath); autoload -Uz compinit; compinit -u -D; setopt auto_list no_list_beep; print -r -- re''ady"
zpty -r -m asked told '*ready*' || exit 1
# Twice, for a list where there is more than one; then a stop that is answered.
zpty -w -n asked "$2"$'\t'$'\t'
sleep 2
zpty -w -n asked $'\C-u'"print -r -- th''at is all"$'\n'
told=
zpty -r -m asked told '*that is all*'
print -r -- "$told"
zpty -d asked
