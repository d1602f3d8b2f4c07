printf 'G21 G91 F100\nG38.2 Z-10\nM2\n' >z.ngc; SOURCE_DATE_EPOCH=0 trueup rehearse z.ngc --scene front-left.json --log z.jsonl --series 'by hand' >/dev/null && cat z.jsonl
