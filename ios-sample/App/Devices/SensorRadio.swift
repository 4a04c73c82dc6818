import CoreBluetooth
import Foundation
import Presenters

/// A sensor nearby that speaks the Bluetooth SIG's Continuous Glucose Monitoring service, or a meter with the Glucose service. It
/// reads, subscribes and passes the bytes on; the core decodes them.
///
/// Source: Bluetooth SIG, Assigned Numbers, 16-bit UUIDs.
final class SensorRadio: NSObject, DeviceSource, CBCentralManagerDelegate, CBPeripheralDelegate, @unchecked Sendable {
    private static let services = [CBUUID(string: "181F"), CBUUID(string: "1808")]
    /// The sensor's feature and session start, which have to be known before its measurements.
    private static let first = [CBUUID(string: "2AA8"), CBUUID(string: "2AAA")]
    /// A sensor's measurement; a meter's, and its context.
    private static let measurements = [CBUUID(string: "2AA7"), CBUUID(string: "2A18"), CBUUID(string: "2A34")]
    private static let meterMeasurement = CBUUID(string: "2A18")
    private static let recordAccess = CBUUID(string: "2A52")

    let name = "sensor nearby"
    private let queue = DispatchQueue(label: "sensor radio")
    // Everything below is used on the queue alone.
    private var central: CBCentralManager?
    private var peripheral: CBPeripheral?
    private var asking = Data()
    private var hasAsked = false
    /// An ended search must not end the one after it.
    private var round = 0
    private var batches: AsyncThrowingStream<DeviceValue, any Error>.Continuation?

    func values(asking: Data) -> AsyncThrowingStream<DeviceValue, any Error> {
        let (stream, batches) = AsyncThrowingStream<DeviceValue, any Error>.makeStream()
        queue.async {
            self.stop()
            self.round += 1
            let round = self.round
            (self.batches, self.asking, self.hasAsked) = (batches, asking, false)
            batches.onTermination = { [weak self] _ in self?.queue.async { if self?.round == round { self?.stop() } } }
            self.central = CBCentralManager(delegate: self, queue: self.queue)
        }
        return stream
    }

    private func stop() {
        if let peripheral { central?.cancelPeripheralConnection(peripheral) }
        central?.stopScan()
        batches?.finish()
        (central, peripheral, batches) = (nil, nil, nil)
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
        hasAsked = false
        central.connect(peripheral)
    }

    func peripheral(_ peripheral: CBPeripheral, didDiscoverServices error: (any Error)?) {
        for service in peripheral.services ?? [] {
            peripheral.discoverCharacteristics(Self.first + Self.measurements + [Self.recordAccess], for: service)
        }
    }

    /// In the order the core asks for; the phone's Bluetooth keeps to the order in which it is told.
    func peripheral(_ peripheral: CBPeripheral, didDiscoverCharacteristicsFor service: CBService, error: (any Error)?) {
        let found = service.characteristics ?? []
        for one in found where Self.first.contains(one.uuid) { peripheral.readValue(for: one) }
        for one in found where one.uuid == Self.recordAccess || Self.measurements.contains(one.uuid) {
            peripheral.setNotifyValue(true, for: one)
        }
    }

    /// A meter sends its records when it is asked for them.
    func peripheral(_ peripheral: CBPeripheral, didUpdateNotificationStateFor characteristic: CBCharacteristic, error: (any Error)?) {
        let all = characteristic.service?.characteristics ?? []
        let isMeter = all.contains { $0.uuid == Self.meterMeasurement && $0.isNotifying }
        guard isMeter, !hasAsked, let access = all.first(where: { $0.uuid == Self.recordAccess && $0.isNotifying }) else { return }
        hasAsked = true
        peripheral.writeValue(asking, for: access, type: .withResponse)
    }

    func peripheral(_ peripheral: CBPeripheral, didUpdateValueFor characteristic: CBCharacteristic, error: (any Error)?) {
        guard let bytes = characteristic.value, let number = UInt16(characteristic.uuid.uuidString, radix: 16) else { return }
        batches?.yield(DeviceValue(characteristic: number, bytes: bytes))
    }
}
