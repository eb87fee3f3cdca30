"""Reads the plant's whole map with an independent client; prints it as JSON. Argument: the port."""
import json
import sys

from pymodbus.client import ModbusTcpClient

client = ModbusTcpClient("127.0.0.1", port=int(sys.argv[1]))
if not client.connect():
    sys.exit("no connection")
print(json.dumps({
    "holding": client.read_holding_registers(0, 60, 1).registers,
    "input": client.read_input_registers(0, 60, 1).registers,
    "coils": client.read_coils(0, 80, 1).bits,
    "discrete": client.read_discrete_inputs(0, 80, 1).bits,
    "beyond": client.read_holding_registers(60, 1, 1).exception_code,
    "write": client.write_register(0, 1, 1).exception_code,
}))
client.close()
