# In which format a page is written: as is said, else by the ending of the output's name.
by_ending() { # VERB FORMAT ENDING...
    local verb=$1 format=$2 ending
    turnlay "$verb" --format "$format" good.lay
    cp "$out" wanted
    shift 2
    for ending in "$@"; do
        expect 0 "$verb -o page.$ending" "$verb" -o "page.$ending" good.lay
        same "it is $format" "page.$ending" wanted
    done
}
by_ending plan text txt text TXT plan page.old
by_ending plan json json JSON
by_ending plan csv csv
by_ending need csv csv
by_ending sheet html html htm
by_ending sheet json json
by_ending sheet text txt sheet
by_ending draw svg svg picture
expect 0 'an output whose name begins with a dot' plan -o .json good.lay
turnlay plan good.lay
cp "$out" wanted
same 'has no ending' .json wanted
expect 0 'nor in a folder' plan -o ./.json good.lay
same 'has it one' .json wanted
mkdir -p folder.json
expect 0 'an ending of a folder' plan -o folder.json/page good.lay
same 'is none of the file' folder.json/page wanted
expect 0 'gather -o page.lay' gather -o gathered.lay good.lay
turnlay gather good.lay
same 'it is what gather writes' gathered.lay "$out"
expect 1 'check -o page.json' check -o findings.json bad.lay
is_json 'it is JSON' findings.json
expect 0 'a name that says the same as the option' plan --format csv -o page.csv good.lay
expect 0 'an ending that says nothing, with --format' plan --format csv -o page.table good.lay
same 'the option counts' page.table page.csv
if [ -x "$TURNLAY-pdf" ]; then
    expect 0 'sheet -o page.pdf' sheet -o page.pdf good.lay
    holds 'it is a pdf' page.pdf '%PDF-'
    by_ending draw png png PNG
    [ "$(head -c 4 page.png | tail -c 3)" = PNG ]
    verdict 'it is a png' $?
    expect 0 'draw --width' draw --width 300 -o page.png good.lay
    [ "$(od -An -tu1 -j16 -N4 page.png | tr -s ' ')" = ' 0 0 1 44' ]
    verdict 'it is as wide as asked for' $?
else
    skip 'sheet -o page.pdf, draw -o page.png' 'this build cannot write PDF and PNG; make deps installs what that needs'
fi

cannot() { # PATH WORDS ARGUMENT...
    local path=$1 words=$2
    shift 2
    rm -f "$path"
    refuse "$* -o $path" "$@" -o "$path" good.lay
    grep -qF -- "$words" "$err"
    verdict 'it says what there is instead' $?
    no_file 'nothing is written' "$path"
}
cannot x.JPG 'draw writes svg or png; x.JPG ends in .JPG' draw
cannot x.png 'sheet writes text, json, html or pdf; x.png ends in .png' sheet
cannot x.svg '--format png and the .svg of -o x.svg do not go together' draw --format png
cannot x.pdf 'plan writes text, json or csv; x.pdf ends in .pdf' plan
cannot x.csv 'sheet writes text, json, html or pdf; x.csv ends in .csv' sheet
cannot x.svg 'need writes text, json or csv; x.svg ends in .svg' need
cannot x.lay 'plan writes text, json or csv; x.lay ends in .lay' plan
cannot x.txt 'gather writes lay; x.txt ends in .txt' gather
cannot x.csv 'check writes text or json; x.csv ends in .csv' check
cannot x.docx 'sheet writes text, json, html or pdf; x.docx ends in .docx' sheet
cannot x.pdf '--format html and the .pdf of -o x.pdf do not go together' sheet --format html
cannot x.txt '--format csv and the .txt of -o x.txt do not go together' plan --format csv
cannot x.txt '--findings json and the .txt of -o x.txt do not go together' check --findings json
