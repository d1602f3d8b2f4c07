# The log knows the other coordinate, so a turned stock needs nothing more.
trueup zero front-left-top --shop shop.json --plate offcut --cutter pin --log front_left.hits.jsonl --series corner --skew-from 100.2,90:99.0,240 --explain
