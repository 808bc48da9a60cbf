# Colour: on a terminal, for those who want it, and nowhere else.
escape=$'\033'
export TERM=xterm
terminal check bad.lay
holds 'findings on a terminal have colour' "$out" "$escape"
terminal plan bad.lay
holds 'findings of plan on a terminal have colour' "$out" "$escape"
NO_COLOR=1 terminal check bad.lay
holds 'NO_COLOR leaves the words' "$out" 'T101'
lacks 'NO_COLOR takes the colour' "$out" "$escape"
NO_COLOR='' terminal check bad.lay
holds 'an empty NO_COLOR forbids nothing' "$out" "$escape"
TERM=dumb terminal check bad.lay
lacks 'a dumb terminal gets no colour' "$out" "$escape"
terminal check --findings json bad.lay
lacks 'JSON has no colour' "$out" "$escape"
terminal check -o findings bad.lay
lacks 'a file gets no colour' findings "$escape"
turnlay check bad.lay
lacks 'standard output that is no terminal gets no colour' "$out" "$escape"
turnlay plan bad.lay
lacks 'standard error that is no terminal gets no colour' "$err" "$escape"
