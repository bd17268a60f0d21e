"""An invented fuel system with its hardware said, for the tests of cut lists, bills and choices."""

import flarenut as fn

# Invented prices. Hose of -3 and -6, its ends and most devices have none, on purpose.
PRICES = """# invented
item,price,unit,currency,weight,cut_off
hose -8 ptfe*,9.50,ft,EUR,0.13 lb,
hose -10 ptfe*,12.0,ft,EUR,0.17 lb,
hose end -8 *,11.0,each,EUR,60 g,1.1 in
"hose end -8 *, 90 deg",19.0,each,EUR,95 g,1.3 in
support clamp*,1.2,each,EUR,15 g,
tube 3/8 in*304*,5.5,ft,EUR,,
adapter *,8.00,each,EUR,80 g,
formula pump*,140,,,,
"""


def car():
    """Suction hose, pump, pressure hose of a military standard, filter, hard line by points, rail with a tee, return line."""
    made = fn.Circuit("invented coupe, fuel", fluid="E85", invented=True)
    made.tank("cell", level="8 in")
    made.run("feed", "cell", "rail in", [
        fn.pickup("10 mm"),
        fn.hose("-10", "14 in", spec="ptfe", bends=[90], ends=["-10 37 flare female", "-10 37 flare female, 45 deg"], name="suction hose"),
        fn.formula_pump(dead_head="95 psi", free_flow="150 gph", through="60 psi at 85 gph", ends=["-10 37 flare male", "-8 37 flare male"],
                        mass="1.1 kg", name="pump"),
        fn.hose("-8", "60 in", spec="ptfe", standard="MIL-H-27267", ends=["-8 37 flare female", "-8 37 flare female, 90 deg"], name="pump hose"),
        fn.filter(drop="1.2 psi at 100 gph", ends=["-8 37 flare male", "-8 O-ring boss female"], name="fuel filter"),
        fn.adapter(["-8 O-ring boss male", "-8 37 flare male"], name="filter adapter"),
        fn.tube("1/2 in", wall="0.035 in", material="304 stainless", ends=["-8 37 flare female"] * 2, name="hard line",
                way=[["0 in", "0 in", "0 in"], ["20 in", "0 in", "0 in"], ["20 in", "0 in", "10 in"], ["60 in", "0 in", "10 in"]]),
        fn.hose("-8", spec="ptfe", bend_radius="5.5 in", ends=["-8 37 flare female"] * 2, name="engine hose",
                way=[["0 in", "0 in", "0 in"], ["8 in", "0 in", "0 in"], ["8 in", "0 in", "14 in"]])])
    made.tee("rail tee", "rail in", "rail", "gauge", size="-8", ends=["-8 37 flare male"] * 3)
    made.junction("gauge end")
    made.run("gauge line", "gauge", "gauge end", [fn.hose("-3", "30 in", spec="ptfe", name="gauge hose")])
    made.run("return", "rail", "cell", [
        fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="30 psi at 400 L/h", name="regulator"),
        fn.tube("3/8 in", "9 ft", bends=[90, 90, 45], material="304 stainless", name="return line"),
        fn.hose("-6", "20 in", spec="push-on", clamped=True, name="tank hose")])
    made.injectors("bank", "rail", count=6, flow="1000 cc/min at 3 bar")
    made.fuel_cases()
    return made
