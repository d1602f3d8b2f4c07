printf '$TUHIT,41,6000137,Z-,100.0000,80.0000,-40.1200,3,412*2D\r\n$TUHIT,41,6000137,Z-,100.0000,80.0000,-40.1200,3,412*2C\r\n' | trueup log --port - --out a.hits.jsonl
