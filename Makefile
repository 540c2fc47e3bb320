# make demo   set up what is needed, then build every bundle and the site of content/
# make test   set up what is needed, then run everything that holds the project to its word
# make bench  how long the commands take and how much memory, as JSON
# make bench-checks  the checks warm, and a sweep over the ranges, as JSON
# make pictures  renew the picture in README.md
# make bench-nesting  sheets used and travel, as JSON; takes some minutes
# make bench-views  step views of 15 to 600 facets and of every content pattern, as JSON
# make bench-language  patterns read and worked out: the largest, and made-up long ones, as JSON
# make bench-cutting  a full sheet ordered, written in every format and laid again, as JSON
# make overview  every step picture of every content pattern on one page, in build/overview
# make lock   renew requirements.lock from pyproject.toml

VENV = .venv/bin
UV = 0.13.9

.PHONY: demo test bench bench-nesting bench-views bench-cutting bench-language bench-checks pictures overview lock set-up

demo: set-up
	@$(VENV)/publisher site --bundles

test: set-up
	$(VENV)/ruff format --check .
	$(VENV)/ruff check .
	$(VENV)/mypy
	$(VENV)/python -m pytest -n auto

bench: set-up
	@$(VENV)/python tests/bench/run.py

pictures: set-up
	RENEW_PICTURES=1 $(VENV)/python -m pytest -q tests/frame/test_readme_picture.py
	$(VENV)/python -m tests.guide.form_pages

overview: set-up
	@$(VENV)/python -m tests.drawing.overview --words

bench-nesting: set-up
	@$(VENV)/python tests/bench/nesting.py

bench-views: set-up
	@$(VENV)/python -m tests.bench.views

bench-language: set-up
	@$(VENV)/python tests/bench/language.py

bench-cutting: set-up
	@$(VENV)/python tests/bench/cutting.py

bench-checks: set-up
	@$(VENV)/python tests/bench/checks.py

# Universal: the lock serves every Python from 3.11 on and every system that has wheels.
lock: set-up
	$(VENV)/python -m pip install --quiet uv==$(UV)
	$(VENV)/uv pip compile --quiet --upgrade --universal --python-version 3.11 --extra dev \
		--generate-hashes --no-annotate --custom-compile-command "make lock" \
		--output-file requirements.lock pyproject.toml

set-up:
	@sh .ci/set-up
