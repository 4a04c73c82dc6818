package ebbstead.sample.phone

import android.annotation.SuppressLint
import android.bluetooth.*
import android.content.*
import ebbstead.*
import ebbstead.sample.source.Source
import java.util.UUID
import java.util.concurrent.ConcurrentHashMap

/**
 * A sensor or meter that speaks the Bluetooth SIG's Continuous Glucose Monitoring (0x181F) or Glucose (0x1808) service: reads
 * what core needs first, subscribes, asks for the records kept, and hands the bytes on.
 *
 * Not run yet: there is no such device here. Numbers are from the SIG's Assigned Numbers, kept from memory.
 */
@SuppressLint("MissingPermission") // the activity asks before it makes one
class BluetoothSource(
    private val context: Context,
    private val device: BluetoothDevice,
    /** What to write to the Record Access Control Point to be sent the records that are missed; asked for once the session is read. */
    private val records: () -> ByteArray,
) : Source {
    private var gatt: BluetoothGatt? = null

    private var listens = false

    /** What waits for a bond. */
    @Volatile
    private var bonding: BluetoothGatt? = null

    private val bonds = object : BroadcastReceiver() {
        override fun onReceive(context: Context, intent: Intent) {
            if (device.bondState == BluetoothDevice.BOND_BONDING) return
            if (device.bondState == BluetoothDevice.BOND_BONDED) bonding?.discoverServices() else bonding?.let(::again)
            bonding = null
        }
    }

    /** A connection that gives nothing, or a bond that is refused, is worth nothing: it begins anew. */
    private fun again(gatt: BluetoothGatt) {
        gatt.disconnect()
        gatt.connect()
    }

    override fun begin(got: (characteristic: Int, value: ByteArray) -> Unit) {
        gatt = device.connectGatt(context, true, object : BluetoothGattCallback() {
            /** One thing at a time: the stack drops what is asked for while it is busy. */
            private val waiting = ArrayDeque<(BluetoothGatt) -> Boolean>()

            override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, state: Int) {
                states[device.address] = if (state == BluetoothProfile.STATE_CONNECTED) SourceState.CONNECTED else SourceState.LOST
                if (state == BluetoothProfile.STATE_CONNECTED) discover(gatt)
            }

            /** A device that was updated, or bonded just now, has other services than before. */
            override fun onServiceChanged(gatt: BluetoothGatt) = discover(gatt)

            private fun discover(gatt: BluetoothGatt) {
                waiting.clear()
                if (!gatt.discoverServices()) again(gatt)
            }

            /** Whether it may go on. A device that asks for a bond gets one; with it everything begins anew. */
            private fun bonded(gatt: BluetoothGatt, status: Int): Boolean {
                if (status != BluetoothGatt.GATT_INSUFFICIENT_AUTHENTICATION && status != BluetoothGatt.GATT_INSUFFICIENT_ENCRYPTION) return true
                waiting.clear()
                bonding = gatt
                // It has one, with keys that the device lost; or the phone is busy with another.
                if (!device.createBond()) again(gatt)
                return false
            }

            override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
                waiting.clear()
                if (status != BluetoothGatt.GATT_SUCCESS) return again(gatt)
                val all = gatt.services.filter { it.uuid in SERVICES }.flatMap { it.characteristics }
                fun those(numbers: List<UShort>) = numbers.map(::assigned).flatMap { wanted -> all.filter { it.uuid == wanted } }
                those(NUMBERS.readFirst).forEach { one -> waiting.add { it.readCharacteristic(one) } }
                those(NUMBERS.notified).forEach { one -> waiting.add { it.subscribe(one, BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE) } }
                for (control in those(listOf(NUMBERS.recordAccess))) {
                    waiting.add { it.subscribe(control, BluetoothGattDescriptor.ENABLE_INDICATION_VALUE) }
                    waiting.add {
                        val done = it.writeCharacteristic(control, records(), BluetoothGattCharacteristic.WRITE_TYPE_DEFAULT)
                        done == android.bluetooth.BluetoothStatusCodes.SUCCESS
                    }
                }
                next(gatt)
            }

            private fun BluetoothGatt.subscribe(one: BluetoothGattCharacteristic, how: ByteArray): Boolean {
                val descriptor = one.getDescriptor(CLIENT_CONFIGURATION) ?: return false
                setCharacteristicNotification(one, true)
                return writeDescriptor(descriptor, how) == android.bluetooth.BluetoothStatusCodes.SUCCESS
            }

            /** What cannot even be begun is passed over; it has no callback. */
            private fun next(gatt: BluetoothGatt) {
                while (waiting.isNotEmpty()) if (waiting.removeFirst()(gatt)) return
            }

            override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) {
                if (bonded(gatt, status)) next(gatt)
            }

            override fun onCharacteristicWrite(gatt: BluetoothGatt, one: BluetoothGattCharacteristic, status: Int) {
                if (bonded(gatt, status)) next(gatt)
            }

            override fun onCharacteristicRead(gatt: BluetoothGatt, one: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
                if (status == BluetoothGatt.GATT_SUCCESS) got(number(one.uuid), value)
                if (bonded(gatt, status)) next(gatt)
            }

            override fun onCharacteristicChanged(gatt: BluetoothGatt, one: BluetoothGattCharacteristic, value: ByteArray) {
                val awake = context.awake()
                heard[device.address] = phoneClock.now()
                got(number(one.uuid), value)
                awake.release()
            }
        })
        context.registerReceiver(bonds, IntentFilter(BluetoothDevice.ACTION_BOND_STATE_CHANGED), Context.RECEIVER_EXPORTED)
        listens = true
    }

    override fun end() {
        if (listens) context.unregisterReceiver(bonds)
        listens = false
        gatt?.close()
        gatt = null
        states.remove(device.address)
    }

    companion object {
        /** By their addresses: what became of the devices, and when one last said something. */
        val states = ConcurrentHashMap<String, SourceState>()
        val heard = ConcurrentHashMap<String, Moment>()

        fun assigned(number: UShort): UUID = UUID.fromString("%08x-0000-1000-8000-00805f9b34fb".format(number.toInt()))

        fun number(uuid: UUID) = (uuid.mostSignificantBits ushr 32).toInt()

        private val NUMBERS = nearbyNumbers()
        val SERVICES = NUMBERS.services.map(::assigned)
        private val CLIENT_CONFIGURATION = assigned(0x2902u)
    }
}
