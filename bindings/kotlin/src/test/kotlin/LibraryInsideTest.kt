import ebbstead.LibraryInside
import java.nio.file.Files
import java.nio.file.attribute.PosixFilePermissions
import org.junit.jupiter.api.Assertions.assertArrayEquals
import org.junit.jupiter.api.Assertions.assertEquals
import org.junit.jupiter.api.Assumptions.assumeTrue
import org.junit.jupiter.api.Test

/** The jar's loader, as far as it can be asked without a jar; .ci/steps/82-kotlin-jar.sh runs a program with one. */
class LibraryInsideTest {
    @Test
    fun whatIsLaidIsItsOwnersAlone() {
        assumeTrue("posix" in java.nio.file.FileSystems.getDefault().supportedFileAttributeViews())
        val file = LibraryInside.lay("some.so", "octets".byteInputStream())
        assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file)))
        assertEquals("rwx------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file.parent)))
        assertArrayEquals("octets".toByteArray(), Files.readAllBytes(file))
        Files.delete(file)
        Files.delete(file.parent)
    }
}
