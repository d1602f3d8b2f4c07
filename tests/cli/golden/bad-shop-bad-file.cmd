printf '{"unit":"mm","stock":{"x":-1}}' >bad.json; trueup shop check --shop bad.json
