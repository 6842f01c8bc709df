"""An input module that is not ours: a Modbus TCP server by pymodbus with the two switches as discrete inputs.

    module.py PORT

Lines on standard input, each answered with one line:
    set GUARD STOP   the bits of guard and stop from now on, each 0 or 1; answered "set"
    refuse           every request is answered with the exception "device failure" until the next set; answered "set"
    asked            the function codes of all requests since the start, with how often; answered as "2:17"

It says "ready" when it listens. Stopped (SIGSTOP), it holds its connections and answers nothing; killed, they break.
"""

import asyncio
import collections
import sys
import threading

from pymodbus.constants import ExcCodes
from pymodbus.server import ModbusTcpServer
from pymodbus.simulator import DataType, SimData, SimDevice

asked = collections.Counter()
# Guard in bit 0, stop in bit 1; None: the module refuses.
bits = 0


async def answer(_function, _start, _address, _count, registers, written):
    """The switches as they stand now. A client that writes is refused, and counted by its function."""
    if written is not None:
        return ExcCodes.ILLEGAL_FUNCTION
    if bits is None:
        return ExcCodes.DEVICE_FAILURE
    registers[0] = bits
    return None


def trace(sending, pdu):
    """Counts what a client asks; answers pass."""
    if not sending:
        asked[pdu.function_code] += 1
    return pdu


def serve_lines():
    global bits
    for line in sys.stdin:
        match line.split():
            case ["set", guard, stop]:
                bits = int(guard) + 2 * int(stop)
                print("set", flush=True)
            case ["refuse"]:
                bits = None
                print("set", flush=True)
            case ["asked"]:
                print(" ".join(f"{code}:{count}" for code, count in sorted(asked.items())), flush=True)
            case _:
                print("what?", flush=True)


async def main(port):
    block = [SimData(0, values=[False] * 16, datatype=DataType.BITS)]
    words = [SimData(0, values=0, datatype=DataType.REGISTERS)]
    device = SimDevice(0, (block, block, words, words), action=answer)
    server = ModbusTcpServer(device, address=("127.0.0.1", port), trace_pdu=trace)
    await server.serve_forever(background=True)
    print("ready", flush=True)
    threading.Thread(target=serve_lines, daemon=True).start()
    await asyncio.Event().wait()


if __name__ == "__main__":
    asyncio.run(main(int(sys.argv[1])))
