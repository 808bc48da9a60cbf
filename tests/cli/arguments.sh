# How the command line is read, and what help says.
refuse 'no verb at all'
refuse 'an unknown verb' paln good.lay
holds 'a mistyped verb is guessed' "$err" 'did you mean plan?'
refuse 'a file where the verb should be' good.lay
refuse 'an unknown option' plan --fromat json good.lay
holds 'a mistyped option is guessed' "$err" 'did you mean --format?'
refuse 'an unknown letter' plan -x good.lay
holds 'the unknown letter is named' "$err" 'no option -x'
refuse 'an unknown letter behind a known one' check --findings json -vx good.lay
holds 'the letter behind is named' "$err" 'no option -x'
refuse 'a value for an option without one' check --verbose=yes good.lay
refuse 'an option without its value' plan good.lay -o
refuse 'no file' plan
refuse 'an unknown format' plan --format xml good.lay
holds 'the formats of this verb are named' "$err" 'is text, json or csv, not xml'
refuse 'a format of another verb' plan --format pdf good.lay
holds 'the formats of this verb are named then, too' "$err" 'is text, json or csv, not pdf'
refuse 'an unknown format of a sheet' --format xml sheet good.lay
holds 'those of the sheet are named' "$err" 'is text, json, html or pdf, not xml'
refuse 'an unknown format of a picture' draw --format jpg good.lay
holds 'those of the picture are named' "$err" 'is svg or png, not jpg'
for width in 15 32768 0 -1 300.5 300px wide '' 99999999999999999999; do
    refuse "a width of '$width'" draw --format png --width "$width" good.lay
    holds 'it is said what one is' "$err" '--width is a whole number of pixels, from 16 to 32767, not '
done
refuse 'a width of an svg' draw --width 300 good.lay
holds 'it is said what it goes with' "$err" '--width goes with a png: write --format png'
refuse 'a template of pixels' draw --view template --format png good.lay
holds 'a way out is said' "$err" 'draw it as svg, or print the pdf sheet'
refuse 'a width of a plan' plan --width 300 good.lay
refuse 'a format of check' check --format json good.lay
holds 'the option for findings is named' "$err" '--findings json'
refuse 'the findings'\'' option of old' check --json good.lay
holds 'the new one is named' "$err" '--findings json'
refuse 'findings in an unknown format' plan --findings csv good.lay
refuse 'findings of check in an unknown format' check --findings csv good.lay
refuse 'the rest of a sheet as data' sheet --from 2 --format json good.lay
refuse 'the rest of a sheet in a file that ends in json' sheet --from 2 -o rest.json good.lay
no_file 'nothing is written then' rest.json
expect 0 'a page that opens at a step' sheet --from 2 --format html good.lay
grep -q "^<body data-key=.* data-from=\"2\">$" "$out"
verdict 'it says at which' $?
expect 0 'a page that opens at the first step' sheet --from 1 --format html good.lay
grep -q "^<body data-key=" "$out" && ! grep -q "^<body.* data-from=" "$out"
verdict 'it opens at its beginning' $?
expect 2 'a record that is not there' sheet --record absent.json good.lay
holds 'it is named' "$err" 'there is no record absent.json'
expect 2 'a record to learn from that is not there' plan --learned absent.json good.lay
refuse 'a record of a gathered file' gather --record absent.json good.lay
echo '{}' >record.json
expect 1 'a record that is none' check --record record.json good.lay
holds 'it is a finding in that file' "$out" 'record.json:1:1: error: `turnlay` is missing here (T702)'
expect 2 'it is not written over' sheet --record record.json -o record.json good.lay
expect 1 'a record that is none, with a file for make' sheet --record record.json -MF record.d good.lay
refuse 'the rest of a plan' plan --from 2 good.lay
refuse 'paper for text' sheet --paper letter good.lay
refuse 'an angle for a picture that shows all round' draw --view unrolled --turn 90 good.lay
refuse 'an unknown view' draw --view top good.lay
refuse 'eyes that are none' draw --eyes deutan good.lay
holds 'it is said which there are' "$err" '--eyes is all, protanopia, deuteranopia or tritanopia, not deutan'
refuse 'two threads without a comma' shades --between navy good.lay
holds 'it is said how they are written' "$err" '--between is two threads with a comma between them, as in navy,foam, not navy'
refuse 'three threads' shades --between navy,slate,foam good.lay
refuse 'one thread and nothing' shades --between navy, good.lay
refuse 'nothing and one thread' shades --between ' ,foam' good.lay
refuse 'threads of a plan' plan --between navy,foam good.lay
refuse 'shades of two files' shades good.lay good.lay
refuse 'shades as csv' shades --format csv good.lay
refuse 'a width of shades that are no png' shades --width 400 good.lay
refuse 'eyes of a plan' plan --eyes tritanopia good.lay
refuse 'a scale of 0' draw --scale 0 good.lay
refuse 'a scale that is no number' draw --scale big good.lay
refuse 'a scale with more behind it' draw --scale 2x good.lay
refuse 'a scale that is not a number' draw --scale nan good.lay
refuse 'a rod without a name' draw --rod '' good.lay
refuse 'a section without a name' draw --section '' good.lay
refuse 'a section of a template' draw --view template --section low good.lay
holds 'it is said why' "$err" 'a template is of one wrap; leave out --section'
refuse 'a section of a plan' plan --section low good.lay
refuse 'a view of a plan' plan --view side good.lay
refuse 'a format of a drawing' draw --format json good.lay
refuse 'an output of explain' explain -o page T101
refuse 'two files to draw' draw good.lay two.lay
refuse 'two files to gather' gather good.lay two.lay
refuse 'two files and one output' plan -o page good.lay two.lay
no_file 'two files and one output write nothing' page
refuse 'two files and one depfile' plan -MF deps good.lay two.lay
refuse 'two outputs' plan -o page -o other good.lay
for option in 'sheet --format csv' 'draw --rod 1' 'draw --view side' 'draw --scale 2' 'draw --turn 9' 'draw --width 300' \
    'sheet --from 2' 'sheet --paper a4' 'sheet --findings text'; do
    refuse "two of $option" $option ${option#* } good.lay
    holds "it is said of $option" "$err" ' is given twice; leave one of them out'
done
for option in '--rod 1' '--view side' '--scale 2' '--turn 9' '--width 300'; do
    refuse "two of $option where there is none" sheet $option $option good.lay
    holds "it is said that there is none of $option" "$err" "sheet takes no ${option% *}"
done
expect 0 'a switch twice' plan -v -v good.lay
refuse 'a folder that is not there' plan -I nowhere good.lay
holds 'the folder is named' "$err" '-I nowhere: No such file or directory'
refuse 'a file instead of a folder' plan -I good.lay good.lay
holds 'it is said to be one' "$err" '-I good.lay is a file'
for ending in gz zip xz; do
    refuse "an output packed as $ending" plan -o "page.txt.$ending" good.lay
    holds "the formats are named ($ending)" "$err" "plan writes text, json or csv; page.txt.$ending ends in .$ending"
done
refuse 'an option that the verb has not, without its value' new --format
holds 'it is said that there is none' "$err" 'new takes no --format'
# what the verb has not is said before what is wrong with it otherwise
for option in '--eyes good.lay' '--eyes all' '--eyes none' '--eye all' '--eye=none' '--ey'; do
    refuse "plan $option" plan $option good.lay
    holds "plan has none ($option)" "$err" 'plan takes no --eyes'
done
refuse 'a value of no option' --eyes none plan good.lay
holds 'before the verb the value counts' "$err" '--eyes is all, protanopia, deuteranopia or tritanopia, not none'
# a name is written whole
for option in --eye=all '--eye all' '--ey=all' '--v side' '--fo svg' --str --verb --quie; do
    name=${option%%[= ]*}
    refuse "an option cut short ($option)" draw $option good.lay
    holds "it is none ($option)" "$err" "there is no option $name"
done
holds 'the whole one is named' "$err" 'there is no option --quie; did you mean --quiet?'
refuse 'an option cut short before the verb' --eye all draw good.lay
holds 'the whole one is named there, too' "$err" 'there is no option --eye; did you mean --eyes?'
refuse 'a misspelt option of another verb' plan --eyess all good.lay
holds 'it is none' "$err" 'there is no option --eyess'
lacks 'and is not offered' "$err" 'did you mean'
expect 2 'a rod that the file has not' draw --rod 9 two.lay
[ "$(wc -l <"$err")" = 1 ]
verdict 'nothing else is said then' $?
refuse 'standard input twice' check - -
refuse '-MX' plan -MX good.lay
refuse '-MF without a name' plan good.lay -MF
refuse '-MD of standard input without any name' check -MD -

turnlay plan --format csv good.lay
cp "$out" expected
expect 0 'options before the verb' --format csv plan good.lay
same 'options before the verb count' "$out" expected
expect 0 'options after the files' plan good.lay --format csv
same 'options after the files count' "$out" expected
env POSIXLY_CORRECT=1 "$TURNLAY" plan good.lay --format=csv >"$out" 2>"$err"
same 'options after the files count with POSIXLY_CORRECT' "$out" expected
cp good.lay ./-dash.lay
expect 0 'a file that begins with a dash, after --' plan --format csv -- -dash.lay
same_plan 'the file after -- is the one planned' "$out" expected
refuse 'a file that begins with a dash, without --' plan --format csv -dash.lay

expect 0 '--version' --version
grep -qxE 'turnlay [0-9]+\.[0-9]+\.[0-9]+( \([0-9a-f]{7,40}\))?' "$out"
verdict '--version prints name and version alone' $?
expect 0 '--help' --help
for verb in check plan need draw gather explain new; do
    holds "--help names $verb" "$out" "  $verb "
done
empty '--help says nothing on standard error' "$err"
for verb in check plan need draw gather explain new; do
    expect 0 "$verb --help" "$verb" --help
    holds "$verb --help shows how it is called" "$out" "usage: turnlay $verb"
    [ "$(awk '{ if (length > longest) longest = length } END { print longest }' "$out")" -le 110 ]
    verdict "$verb --help has no overlong lines" $?
done
turnlay draw --help
for option in '-o, --output FILE' '--view VIEW' '--scale N' '--width PIXELS' '--rod NAME' '--strict' '-q, --quiet' '-v, --verbose' '-I FOLDER' '--findings FORMAT' \
    '-MD' '-MF FILE' '--verbose'; do
    holds "draw --help shows $option" "$out" "$option"
done
lacks 'draw --help leaves out what others take' "$out" '--paper'
holds 'draw --help names its formats' "$out" 'svg or png;'
turnlay sheet --help
holds 'sheet --help names its formats' "$out" 'text, json, html or pdf;'
lacks 'and not those of others' "$out" 'json or csv'
