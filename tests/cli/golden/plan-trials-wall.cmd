trueup plan trials back --shop shop.json --plate hook --cutter pin --axis y --wall a --touches 3 --series gauge
