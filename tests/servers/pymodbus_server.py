"""A Modbus TCP server that this project did not write: pymodbus. Prints its port, serves until it is ended."""
import asyncio

from pymodbus.datastore import ModbusSequentialDataBlock, ModbusServerContext, ModbusSlaveContext
from pymodbus.server.async_io import ModbusTcpServer


async def main():
    store = ModbusSlaveContext(
        di=ModbusSequentialDataBlock(0, [index % 2 == 0 for index in range(64)]),
        co=ModbusSequentialDataBlock(0, [index % 3 == 0 for index in range(64)]),
        hr=ModbusSequentialDataBlock(0, [1000 + index for index in range(600)]),
        ir=ModbusSequentialDataBlock(0, [2000 + index for index in range(64)]),
        zero_mode=True,
    )
    server = ModbusTcpServer(ModbusServerContext(slaves=store, single=True), address=("127.0.0.1", 0))
    task = asyncio.ensure_future(server.serve_forever())
    await server.serving
    print(server.server.sockets[0].getsockname()[1], flush=True)
    await task


asyncio.run(main())
