# An edge at one side leaves the body of the cutter at the other.
jq '.cutters[0].flutes=3' shop.json >odd.json; trueup plan trials front-left-top --shop odd.json --plate ring --cutter quarter --axis x --both-sides
