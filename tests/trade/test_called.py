"""Things go by the names that people give them, in every language that a record may be written in."""

from __future__ import annotations

import pytest

from bookgen.trade.called import called, sorts
from bookgen.trade.tongue import LANGUAGES

# Words of the trade as they are spoken on sites in the United States; from memory.
NAMES = {
    "cleanout": ("Cleanout of the main drain", "Registro de limpieza del desagüe"),
    "valve": ("Main water shutoff", "Llave de paso principal"),
    "box": ("Junction box over the hall", "Caja de empalmes del pasillo"),
    "panel": ("Breaker panel", "Panel eléctrico"),
    "smoke": ("Smoke alarm", "Alarma de humo"),
    "carbon monoxide": ("CO alarm", "Alarma de monóxido de carbono"),
    "door": ("Guest room door", "Puerta del cuarto de visitas"),
    "lid": ("Sealed lid of the pit", "Tapa sellada del pozo"),
    "sealed": ("Sealed lid of the pit", "Tapa sellada del pozo"),
    "sump": ("Sump pump", "Bomba de sumidero"),
    "upper": ("upper and lower", "altas y bajas"),
    "lower": ("upper and lower", "altas y bajas"),
    "makes water": ("Dehumidifier", "Deshumidificador"),
    "condensate drain": ("Condensate line", "Desagüe de condensado"),
    "no place for water": ("the radon pipe's pit", "el pozo del tubo de radón"),
    "poor place for water": ("a bucket", "una cubeta"),
    "dryer": ("Dryer duct", "Ducto de la secadora"),
    "gauge": ("Gauge of the radon pipe", "Manómetro del tubo de radón"),
    "outlet": ("Outlet behind the screen", "Tomacorriente detrás de la pantalla"),
    "kept things": ("Storage shelf", "Estante"),
    "wood": ("Built-up beam", "Viga de madera"),
    "steel": ("Steel beam", "Viga de acero"),
    "water heater": ("Water heater", "Calentador de agua"),
    "gas valve": ("Gas valve", "Llave del gas"),
    "water valve": ("Water valve", "Llave de paso del agua"),
    "water service": ("Water service", "Acometida de agua"),
    "floor drain": ("Floor drain", "Coladera de piso"),
    "cast iron stack": ("Cast iron stack", "Bajante de hierro fundido"),
    "crawl space": ("Crawl space", "Espacio bajo el piso"),
    "outdoor tap": ("Outdoor tap", "Llave del jardín"),
    "vent riser": ("Vent riser", "Tubo de ventilación"),
    "egress window": ("Egress window", "Ventana de escape"),
    "window well": ("Window well", "Foso de la ventana"),
    "dryer duct": ("Dryer duct", "Ducto de la secadora"),
    "pipe wrap": ("Pipe wrap", "Forro de tubería"),
    "block wall": ("Block wall", "Pared de bloque"),
}


@pytest.mark.parametrize("sort", sorted(sorts()))
def test_every_sort_has_words_in_every_language(sort: str) -> None:
    """Else a record in that language hides a thing from its check, and nobody is told."""
    assert sorted(sorts()[sort]) == sorted(LANGUAGES)
    assert [name for name in NAMES[sort] if not called(sort).search(name)] == []


@pytest.mark.parametrize(
    ("sort", "other"),
    [
        ("door", "Doorway"),
        ("door", "Vano de puerta"),
        ("smoke", "Smoker's corner"),
        ("carbon monoxide", "Water Co. meter"),
        ("cleanout", "Tapa de la caja"),
        ("box", "Caja del panel"),
        ("lower", "the bajada"),
    ],
)
def test_what_is_called_otherwise_is_no_such_thing(sort: str, other: str) -> None:
    """A word that only begins or ends like one, or that means another thing, finds nothing."""
    assert called(sort).search(other) is None
