"""unknown-circuit."""


def test_pins_and_wires_are_looked_at(look):
    found = look(
        "unknown-circuit",
        """
    kind: switch
    parts: [{number: TB-20417, pins: {1: start_feed, 2: start_outt}, sources: [{kind: seen}]}]
    plugs: {six-wire: {connector: oval-9, wires: {1: {circuit: strat_feed}, 2: {}}}}
""",
    )
    assert [one.at.split("}")[0] for one in found] == ["start_outt", "strat_feed"]
    assert "did you mean start_out?" in found[0].fix and "did you mean start_feed?" in found[1].fix


def test_every_circuit_of_the_list_is_known(look):
    from rangebook.schema.store import load_schemas

    circuits = list(load_schemas().circuits)
    pins = ", ".join(f"{number}: {name}" for number, name in enumerate(circuits, 1))
    assert len(circuits) > 20
    part = f"{{number: TB-20417, pins: {{{pins}}}, sources: [{{kind: seen}}]}}"
    assert look("unknown-circuit", f"    kind: switch\n    parts: [{part}]\n") == []
