package ebbstead.sample.source

import android.annotation.SuppressLint
import android.bluetooth.BluetoothDevice
import android.bluetooth.BluetoothGatt
import android.bluetooth.BluetoothGattCallback
import android.bluetooth.BluetoothGattCharacteristic
import android.bluetooth.BluetoothGattDescriptor
import android.bluetooth.BluetoothProfile
import android.content.Context
import java.util.UUID

/**
 * A sensor or meter that speaks the Bluetooth SIG's Continuous Glucose Monitoring (0x181F) or Glucose (0x1808) service.
 *
 * Not run yet: there is no such device here. It only subscribes and hands the bytes on; numbers are from the SIG's Assigned
 * Numbers, kept from memory.
 */
@SuppressLint("MissingPermission") // the activity asks before it makes one
class BluetoothSource(private val context: Context, private val device: BluetoothDevice) : Source {
    private var gatt: BluetoothGatt? = null

    override fun begin(got: (characteristic: UUID, value: ByteArray) -> Unit) {
        gatt = device.connectGatt(context, true, object : BluetoothGattCallback() {
            private val waiting = ArrayDeque<BluetoothGattCharacteristic>()

            override fun onConnectionStateChange(gatt: BluetoothGatt, status: Int, state: Int) {
                if (state == BluetoothProfile.STATE_CONNECTED) gatt.discoverServices()
            }

            override fun onServicesDiscovered(gatt: BluetoothGatt, status: Int) {
                waiting.clear()
                for (service in gatt.services.filter { it.uuid in SERVICES }) {
                    waiting.addAll(service.characteristics.filter { it.uuid in MEASUREMENTS })
                }
                subscribeNext(gatt)
            }

            // One descriptor at a time: the stack drops what is asked for while it is busy.
            override fun onDescriptorWrite(gatt: BluetoothGatt, descriptor: BluetoothGattDescriptor, status: Int) =
                subscribeNext(gatt)

            override fun onCharacteristicChanged(
                gatt: BluetoothGatt,
                characteristic: BluetoothGattCharacteristic,
                value: ByteArray,
            ) = got(characteristic.uuid, value)

            private fun subscribeNext(gatt: BluetoothGatt) {
                val next = waiting.removeFirstOrNull() ?: return
                gatt.setCharacteristicNotification(next, true)
                val descriptor = next.getDescriptor(CLIENT_CONFIGURATION) ?: return subscribeNext(gatt)
                gatt.writeDescriptor(descriptor, BluetoothGattDescriptor.ENABLE_NOTIFICATION_VALUE)
            }
        })
    }

    override fun end() {
        gatt?.close()
        gatt = null
    }

    companion object {
        private fun assigned(number: Int): UUID = UUID.fromString("%08x-0000-1000-8000-00805f9b34fb".format(number))

        val SERVICES = setOf(assigned(0x181F), assigned(0x1808))

        /** CGM Measurement and Glucose Measurement. */
        val MEASUREMENTS = setOf(assigned(0x2AA7), assigned(0x2A18))
        private val CLIENT_CONFIGURATION = assigned(0x2902)
    }
}
