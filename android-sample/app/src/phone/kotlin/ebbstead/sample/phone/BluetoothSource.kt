package ebbstead.sample.phone

import android.annotation.SuppressLint
import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile
import android.content.Context
import ebbstead.sample.source.Source
import java.util.UUID

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

    override fun begin(got: (characteristic: Int, value: ByteArray) -> Unit) {
        gatt = device.connectGatt(context, true, object : BluetoothGattCallback() {
            /** One thing at a time: the stack drops what is asked for while it is busy. */
            private val waiting = ArrayDeque<(BluetoothGatt) -> Boolean>()

            override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, state: Int) {
                if (state == BluetoothProfile.STATE_CONNECTED) gatt.discoverServices()
            }

            override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
                waiting.clear()
                val all = gatt.services.filter { number(it.uuid) in SERVICES }.flatMap { it.characteristics }
                fun those(numbers: List<Int>) = numbers.flatMap { wanted -> all.filter { number(it.uuid) == wanted } }
                those(READ_FIRST).forEach { one -> waiting.add { it.readCharacteristic(one) } }
                those(NOTIFIED).forEach { one -> waiting.add { it.subscribe(one, BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE) } }
                for (control in those(listOf(RECORD_ACCESS))) {
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

            override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) = next(gatt)

            override fun onCharacteristicWrite(gatt: BluetoothGatt, one: BluetoothGattCharacteristic, status: Int) = next(gatt)

            override fun onCharacteristicRead(gatt: BluetoothGatt, one: BluetoothGattCharacteristic, value: ByteArray, status: Int) {
                if (status == BluetoothGatt.GATT_SUCCESS) got(number(one.uuid), value)
                next(gatt)
            }

            override fun onCharacteristicChanged(gatt: BluetoothGatt, one: BluetoothGattCharacteristic, value: ByteArray) =
                got(number(one.uuid), value)
        })
    }

    override fun end() {
        gatt?.close()
        gatt = null
    }

    companion object {
        fun assigned(number: Int): UUID = UUID.fromString("%08x-0000-1000-8000-00805f9b34fb".format(number))

        fun number(uuid: UUID) = (uuid.mostSignificantBits ushr 32).toInt()

        val SERVICES = listOf(0x181F, 0x1808)

        /** A sensor's features and the start of its session: its measurements cannot be understood without them. */
        private val READ_FIRST = listOf(0x2AA8, 0x2AAA)

        /** CGM Measurement, Glucose Measurement and its context. */
        private val NOTIFIED = listOf(0x2AA7, 0x2A18, 0x2A34)
        private const val RECORD_ACCESS = 0x2A52
        private val CLIENT_CONFIGURATION = assigned(0x2902)
    }
}
