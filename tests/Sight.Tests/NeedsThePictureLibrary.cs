[assembly: Whetwright.Sight.Tests.PictureLibrary]
