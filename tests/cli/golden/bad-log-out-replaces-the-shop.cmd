cp shop.json mine.json
trueup log --port - --shop mine.json --out ./mine.json
