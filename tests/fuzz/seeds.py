"""What fuzzing begins from: the circuit files, tables and price files of this repository, and the smallest of each kind."""

from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
CORPUS = Path(__file__).resolve().parent / "corpus"
_SHOP = b"cstandard,dash,bore_mm,working_psi\nshop hose,6,8.7,300\n"
_PRICES = b"citem,price,unit,currency,weight,cut_off\nhose end -8 *,9.50,each,EUR,0.12 lb,1.1 in\nhose -8 *,4,ft,EUR,,\n"
_UNITS = ("43 psi", "3/8 in", "-6", "1-1/4 in", "18 inHg vacuum", "85 F", "1e-3 m", "10 cSt", "1000 cc/min at 3 bar", "5 psig", "1 min 30 s", "50 %", "4.5 °C")


def seeds(target):
    """Inputs of a target: kept ones, and what the repository holds."""
    found = [path.read_bytes() for path in sorted((CORPUS / target).glob("*"))] if (CORPUS / target).is_dir() else []
    texts = [path.read_bytes() for path in sorted([*ROOT.glob("docs/guide/examples/**/*.toml"), *ROOT.glob("python/flarenut/demo/*.toml")])]
    if target == "circuit_file":
        found += texts
    elif target == "command":
        found += [bytes([number]) + text for text in texts for number in range(7)]
    elif target == "units_text":
        found += [text.encode() for text in _UNITS]
    elif target == "price_file":
        found += [_PRICES, b't[[item]]\nname = "hose end -8 *"\nprice = 9.5\nunit = "each"\nweight = "0.12 lb"\n']
    elif target == "shop_table":
        found += [_SHOP, b't[[hose]]\nstandard = "shop hose"\ndash = 6\nbore_mm = 8.7\nworking_psi = 300\n',
                  b'cod_in,wall_in,material,tensile_psi\n0.375,0.035,shop steel,50000\n', b'cmaterial,fluid,verdict\nNBR,E85,good\n']
    elif target == "engine":
        found += [bytes((7 * number + 13 * step) % 256 for step in range(300)) for number in range(1, 12)]
    elif target == "kept_sweep":
        found += [b'x,y\n1.0,2.0\n"# flarenut sweep, header as JSON: {""attributes"": {}, ""sizes"": {""x"": 1}, ""coordinates"": {""x"": {""dimensions"": [""x""], '
                  b'""type"": ""float64"", ""values"": [1.0], ""attributes"": {}}}, ""outputs"": {""y"": {""dimensions"": [""x""], ""type"": ""float64"", '
                  b'""attributes"": {}}}, ""not_reached"": {""rows"": [], ""values"": {}}}"\n']
    return found
