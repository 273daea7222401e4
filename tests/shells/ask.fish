# Presses the completion key at the end of a line in fish: ask.fish FOLDER LINE
source $argv[1]/fish
complete --do-complete $argv[2]
