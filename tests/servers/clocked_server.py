"""A Modbus server that this project did not write (pymodbus), whose live words are worked out from the machine's
monotonic clock as in truth.ts. Arguments: a file of fixed words ("table address word" a line; tables 0 to 3 as in
truth.ts), then `tcp HOST:PORT`, `rtu-over-tcp HOST:PORT` (port 0: any free one) or `rtu PATH`. Prints its port, or "ready"."""
import asyncio
import sys
import time

from pymodbus.datastore import ModbusServerContext, ModbusSlaveContext
from pymodbus.datastore.store import BaseModbusDataBlock
from pymodbus.server.async_io import ModbusSerialServer, ModbusTcpServer
from pymodbus.transaction import ModbusRtuFramer, ModbusSocketFramer

LIVE, STEPS, END, LIVE_BITS, END_BITS, UNIT = 200, 264, 300, 64, 128, 1


def word_at(table, address, tick):
    if address == STEPS:
        return tick // 100 & 0xFFFF
    mixed = (UNIT << 24 | table << 16 | address) ^ (tick * 0x9E3779B1 & 0xFFFFFFFF)
    mixed = (mixed ^ mixed >> 16) * 0x85EBCA6B & 0xFFFFFFFF
    mixed = (mixed ^ mixed >> 13) * 0xC2B2AE35 & 0xFFFFFFFF
    return (mixed ^ mixed >> 16) & 0xFFFF


class Clocked(BaseModbusDataBlock):
    def __init__(self, table, fixed):
        self.table, self.fixed = table, fixed
        self.live, self.end = (LIVE_BITS, END_BITS) if table < 2 else (LIVE, END)

    def validate(self, address, count=1):
        return count > 0 and 0 <= address and address + count <= self.end

    def getValues(self, address, count=1):
        tick = time.monotonic_ns() // 1_000_000 & 0xFFFFFFFF
        return [self.value(at, tick) for at in range(address, address + count)]

    def value(self, at, tick):
        if at < self.live or (self.table >= 2 and at > STEPS):
            return self.fixed.get((self.table, at), 0)
        word = word_at(self.table, at, tick)
        return bool(word & 1) if self.table < 2 else word


async def main():
    _, path, kind, place = sys.argv
    with open(path, encoding="utf8") as lines:
        rows = [tuple(map(int, line.split())) for line in lines]
    fixed = {(table, at): word for table, at, word in rows}
    blocks = [Clocked(table, fixed) for table in range(4)]
    store = ModbusSlaveContext(co=blocks[0], di=blocks[1], hr=blocks[2], ir=blocks[3], zero_mode=True)
    context = ModbusServerContext(slaves={UNIT: store}, single=False)
    if kind == "rtu":
        server = ModbusSerialServer(context, framer=ModbusRtuFramer, port=place, baudrate=115200)
        await server.start()
        print("ready", flush=True)
        await server.serve_forever()
        return
    framer = ModbusRtuFramer if kind == "rtu-over-tcp" else ModbusSocketFramer
    host, port = place.split(":")
    server = ModbusTcpServer(context, framer=framer, address=(host, int(port)), allow_reuse_address=True)
    task = asyncio.ensure_future(server.serve_forever())
    await server.serving
    print(server.server.sockets[0].getsockname()[1], flush=True)
    await task


asyncio.run(main())
