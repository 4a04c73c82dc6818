package ebbstead

import com.sun.jna.NativeLibrary
import com.sun.jna.Platform
import java.io.IOException
import java.io.InputStream
import java.nio.channels.Channels
import java.nio.file.FileSystems
import java.nio.file.Files
import java.nio.file.Path
import java.nio.file.StandardOpenOption.CREATE_NEW
import java.nio.file.StandardOpenOption.WRITE
import java.nio.file.attribute.PosixFilePermissions

/**
 * The library that lies in this jar (`bindings/kotlin/jar.sh` puts it there). A phone has it in its app instead.
 *
 * Nothing but its owner may write a file that a program then runs, so it is laid in a folder of the owner's alone. Once it is loaded
 * the name is taken away again: nothing stays behind, even if the program is killed.
 */
object LibraryInside {
    /** Held for good: JNA lets go of a library that nobody holds. */
    private var held: NativeLibrary? = null

    /**
     * Loads it; before anything else of this package, and as often as one likes.
     *
     * @throws UnsatisfiedLinkError where the jar holds none for this system and processor, or the system refuses to load one from the
     *   folder for temporary files (`java.io.tmpdir` names another).
     * @throws IOException where that folder cannot be written to.
     */
    @Synchronized
    fun load() {
        if (held != null) return
        val name = System.mapLibraryName("ebbstead_ffi")
        val inside = javaClass.getResourceAsStream("/ebbstead/library/${Platform.RESOURCE_PREFIX}/$name")
            ?: throw UnsatisfiedLinkError("this jar holds no library for ${Platform.RESOURCE_PREFIX}")
        val file = inside.use { lay(name, it) }
        try {
            held = NativeLibrary.getInstance(file.toString(), javaClass.classLoader)
            // The generated code asks for it by this name and gets the one that is held.
            System.setProperty("uniffi.component.ebbstead.libraryOverride", file.toString())
        } finally {
            takeAway(file)
            takeAway(file.parent)
        }
    }

    /** Writes what comes to a file of this name, in a new folder. */
    internal fun lay(name: String, from: InputStream): Path {
        val file = Files.createTempDirectory("ebbstead", *ownersAlone("rwx------")).resolve(name)
        Files.newByteChannel(file, setOf(CREATE_NEW, WRITE), *ownersAlone("rw-------")).use { from.copyTo(Channels.newOutputStream(it)) }
        return file
    }

    /** Windows knows no such permissions; there the folder for temporary files is the owner's own. */
    private fun ownersAlone(permissions: String) =
        if ("posix" in FileSystems.getDefault().supportedFileAttributeViews()) {
            arrayOf(PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(permissions)))
        } else {
            arrayOf()
        }

    /** Windows keeps the file of a library that is loaded; it goes when the program ends. */
    private fun takeAway(path: Path) {
        try {
            Files.deleteIfExists(path)
        } catch (_: IOException) {
            path.toFile().deleteOnExit()
        }
    }
}
