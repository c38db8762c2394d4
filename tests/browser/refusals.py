"""Scripts that make a browser refuse to keep anything, run before the page's own."""

NO_DATABASE = """
const openDatabase = IDBFactory.prototype.open;
IDBFactory.prototype.open = function (name, ...rest) {
    if (name.startsWith("ellwand")) throw new DOMException("forbidden", "SecurityError");
    return openDatabase.call(this, name, ...rest); // PyScript has one of its own
};
"""
FULL = """
Storage.prototype.setItem = () => { throw new DOMException("no room", "QuotaExceededError") };
"""
FORBIDDEN = """
Object.defineProperty(window, "localStorage", {
    get() { throw new DOMException("forbidden", "SecurityError") },
});
"""
