# Every Z touch was marked as not to be used: X and Y come out, and Z is said to be missing.
/usr/bin/python3 -c 'import re, sys, zlib
for line in sys.stdin:
    body = line.partition(",\"crc\"")[0]
    if "\"axis\":\"z\"" in body: body = body.replace("\"ok\":true", "\"ok\":false")
    print(body + ",\"crc\":\"%08x\"}" % zlib.crc32(body.encode()))' <front_left.hits.jsonl >marked.hits.jsonl; trueup zero front-left-top --shop shop.json --plate offcut --cutter quarter --log marked.hits.jsonl --series corner
