"""Makes the page's own Python importable: the modules of site/app, in CPython, by their names.

What the build copies beside them is found under the name it has there. `pyscript` is a stand-in without a
browser: modules that touch the page can be imported and looked at, and fail as soon as they touch it.
"""

import sys
from pathlib import Path
from types import ModuleType

from drafting.both import link, lives, migrations, texts

APP = Path(__file__).parents[2] / "site" / "app"


def _stand_in(name: str, **values: object) -> None:
    module = ModuleType(name)
    vars(module).update(values)
    sys.modules.setdefault(name, module)


if str(APP) not in sys.path:
    sys.path.append(str(APP))
sys.modules.update(link=link, lives=lives, migrations=migrations, texts=texts)
_stand_in("pyscript", document=None, window=None, workers=None)
_stand_in("pyscript.ffi", create_proxy=lambda react: react, to_js=lambda value, **_: value)
