from pathlib import Path

import pytest

from specgen import shipped


def test_a_checkout_has_templates_and_theme_beside_the_package() -> None:
    package = Path(shipped.__file__).parent
    assert shipped.templates_folder() == package.parent / "templates"
    assert (shipped.site_folder() / "mkdocs.yml").is_file()
    assert (shipped.theme_folder() / "main.html").is_file()
    assert shipped.document_style().is_file()


def test_a_wheel_has_them_inside_the_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "specgen" / "_shipped" / "site").mkdir(parents=True)
    (tmp_path / "site").mkdir()
    monkeypatch.setattr(shipped, "_PACKAGE", tmp_path / "specgen")
    assert shipped.site_folder() == tmp_path / "specgen" / "_shipped" / "site"
