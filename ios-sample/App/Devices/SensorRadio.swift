import CoreBluetooth
import Ebbstead
import Foundation
import Presenters

/// A sensor nearby that speaks the Bluetooth SIG's Continuous Glucose Monitoring service (0x181F, measurement 0x2AA7), or a meter
/// with the Glucose service (0x1808, measurement 0x2A18). It passes bytes on; `decode` makes readings of them.
///
/// Source: Bluetooth SIG, Assigned Numbers, 16-bit UUIDs.
final class SensorRadio: NSObject, ReadingSource, CBCentralManagerDelegate, CBPeripheralDelegate, @unchecked Sendable {
    /// What a characteristic said, and when it arrived.
    struct Received: Sendable {
        let characteristic: String
        let bytes: Data
        let at: Moment
    }

    private static let services = [CBUUID(string: "181F"), CBUUID(string: "1808")]
    private static let measurements = [CBUUID(string: "2AA7"), CBUUID(string: "2A18")]

    let name: String
    private let decode: @Sendable (Received) throws -> [ReadingAt]
    private let queue = DispatchQueue(label: "sensor radio")
    // Everything below is used on the queue alone.
    private var central: CBCentralManager?
    private var peripheral: CBPeripheral?
    private var batches: AsyncThrowingStream<[ReadingAt], any Error>.Continuation?

    init(name: String, decode: @escaping @Sendable (Received) throws -> [ReadingAt]) {
        (self.name, self.decode) = (name, decode)
    }

    func readings(since: Moment?) -> AsyncThrowingStream<[ReadingAt], any Error> {
        let (stream, batches) = AsyncThrowingStream<[ReadingAt], any Error>.makeStream()
        batches.onTermination = { [weak self] _ in self?.stop() }
        queue.async {
            self.batches = batches
            self.central = CBCentralManager(delegate: self, queue: self.queue)
        }
        return stream
    }

    private func stop() {
        queue.async {
            if let peripheral = self.peripheral { self.central?.cancelPeripheralConnection(peripheral) }
            self.central?.stopScan()
            (self.central, self.peripheral, self.batches) = (nil, nil, nil)
        }
    }

    func centralManagerDidUpdateState(_ central: CBCentralManager) {
        if central.state == .poweredOn { central.scanForPeripherals(withServices: Self.services) }
    }

    func centralManager(_ central: CBCentralManager, didDiscover found: CBPeripheral, advertisementData: [String: Any], rssi: NSNumber) {
        central.stopScan()
        peripheral = found
        found.delegate = self
        central.connect(found)
    }

    func centralManager(_ central: CBCentralManager, didConnect peripheral: CBPeripheral) {
        peripheral.discoverServices(Self.services)
    }

    /// A sensor that went out of reach is waited for: connecting has no end of its own.
    func centralManager(_ central: CBCentralManager, didDisconnectPeripheral peripheral: CBPeripheral, error: (any Error)?) {
        central.connect(peripheral)
    }

    func peripheral(_ peripheral: CBPeripheral, didDiscoverServices error: (any Error)?) {
        for service in peripheral.services ?? [] { peripheral.discoverCharacteristics(Self.measurements, for: service) }
    }

    func peripheral(_ peripheral: CBPeripheral, didDiscoverCharacteristicsFor service: CBService, error: (any Error)?) {
        for one in service.characteristics ?? [] { peripheral.setNotifyValue(true, for: one) }
    }

    func peripheral(_ peripheral: CBPeripheral, didUpdateValueFor characteristic: CBCharacteristic, error: (any Error)?) {
        guard let bytes = characteristic.value else { return }
        do {
            batches?.yield(try decode(Received(characteristic: characteristic.uuid.uuidString, bytes: bytes, at: .device)))
        } catch {
            // Bytes that cannot be understood are no reading; the next ones may be.
        }
    }
}
