trueup help zreo; trueup --help zero plate; trueup --version zero
